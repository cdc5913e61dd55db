"""Fit pigments and write the data files: `python -m tools.fit [REF …]`.

Without names all pigments are fitted; with names only those, and the other rows stay. Prints what
determined each of those named.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from tools.fit.everything import fit_all, read_table, tables, write_table
from tools.fit.facts import read_facts
from tubewise.errors import UserError
from tubewise.pigments.models import DATA


def main(argv: Sequence[str] | None = None) -> int:
    """Fit all pigments, or those named, and write models.csv, measured_curves.csv, spreads.csv."""
    parser = argparse.ArgumentParser(prog="python -m tools.fit", description=__doc__)
    parser.add_argument("refs", nargs="*", help="pigments to fit again; all when none is named")
    parser.add_argument("--facts", type=Path, default=DATA / "optics_facts.csv")
    parser.add_argument("--out", type=Path, default=DATA, help="the folder of the data files")
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
    for name, table in tables(found, facts).items():
        path = args.out / name
        write_table(read_table(path) | table if args.refs else table, path)
    for ref in args.refs:
        print(f"{ref}: {found[ref].determined}")
    measured = sum(fitted.curve is not None for fitted in found.values())
    print(f"{len(found)} pigments and forms: {measured} measured, {len(found) - measured} fitted")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
