"""Fit all pigments and write the data files: `python -m tools.fit`."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from tools.fit.everything import fit_all, write_all
from tools.fit.facts import read_facts
from tubewise.errors import UserError
from tubewise.pigments.models import DATA


def main(argv: Sequence[str] | None = None) -> int:
    """Fit all pigments, and write models.csv, measured_curves.csv and spreads.csv."""
    parser = argparse.ArgumentParser(prog="python -m tools.fit", description=__doc__)
    parser.add_argument("--facts", type=Path, default=DATA / "optics_facts.csv")
    parser.add_argument("--out", type=Path, default=DATA, help="the folder to write to")
    parser.add_argument("refs", nargs="*", help="show only these, and write nothing")
    args = parser.parse_args(argv)
    try:
        facts = read_facts(args.facts)
        strange = [ref for ref in args.refs if ref not in facts]
        if strange:
            raise UserError(f"no facts about {', '.join(strange)}", where=args.facts.name)
        found = fit_all(facts, args.refs or None)
    except UserError as error:
        print(error, file=sys.stderr)
        return 2
    for ref in args.refs:
        print(f"{ref}: {found[ref].determined}")
    if not args.refs:
        write_all(found, facts, args.out)
        measured = sum(fitted.curve is not None for fitted in found.values())
        print(f"{len(found)} pigments and forms: {measured} measured, the others fitted")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
