"""Measure on rendered photographs: `python -m tools.photographs labels|swatches [FROM TO]`.

All of it, 100 labels of each difficulty and 60 scenes of each card, takes about half an hour on
two cores; seeds FROM to TO take less.
"""

from __future__ import annotations

import sys

from tools.photographs import labels, swatches

USUAL = {"labels": (1000, 1100), "swatches": (0, 60)}


def main(words: list[str]) -> None:
    """Measure what is named and print it as rows of a table."""
    what = words[0] if words else ""
    if what not in USUAL:
        raise SystemExit(__doc__)
    start, end = (int(words[1]), int(words[2])) if len(words) > 2 else USUAL[what]
    for row in (labels if what == "labels" else swatches).rows(range(start, end)):
        print(f"| {' | '.join(row)} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
