"""Makes data/renotation.csv, the Munsell renotation, from colour-science; run by hand.

    python -m tools.renotation

Every row is one colour of the renotation with its chromaticity under illuminant C for the
2-degree observer, and the way ASTM D1535 interpolates from it towards the next hue of the same
value and chroma: along a straight line or along an arc around the neutral point. Values below
0.4 are left out: the data there are incomplete and reach far outside real colours.
"""

from __future__ import annotations

import csv
from importlib.metadata import version
from pathlib import Path

from tubewise.colour.renotation import FAMILIES

DATA = Path(__file__).parents[1] / "tubewise" / "colour" / "data"
# colour-science counts the hue families from B 1 against our order to PB 10.
_THEIR_FAMILY = (7, 6, 5, 4, 3, 2, 1, 10, 9, 8)


def main() -> None:
    """Writes the renotation, ordered by value, hue and chroma."""
    from colour.notation.datasets.munsell import MUNSELL_COLOURS_ALL
    from colour.notation.munsell import interpolation_method_from_renotation_ovoid

    rows = []
    for (hue, value, chroma), (x, y, _) in MUNSELL_COLOURS_ALL:
        if value < 0.4:
            continue
        name = hue.lstrip("0123456789.")
        family, step = FAMILIES.index(name), float(hue.removesuffix(name))
        # Which way to go is asked half-way to the next hue; it is only defined for values 1 to 9.
        next_family, next_step = divmod(10.0 * family + step + 1.25, 10.0)
        halfway = (
            next_step,
            min(max(value, 1.0), 9.0),
            chroma,
            _THEIR_FAMILY[int(next_family) % 10],
        )
        to_next = interpolation_method_from_renotation_ovoid(halfway)
        rows.append((value, 10.0 * family + step, hue, chroma, x, y, str(to_next).lower()))
    rows.sort()

    target = DATA / "renotation.csv"
    with target.open("w", encoding="utf-8", newline="") as out:
        out.write(
            "# Source: Newhall, Nickerson & Judd 1943 and Judd & Wyszecki 1956, as published by "
            "the Munsell Color Science Laboratory (all.dat); ways: ASTM D1535.\n"
            "# Made by tools.renotation with colour-science "
            f"{version('colour-science')}.\n"
        )
        table = csv.writer(out, lineterminator="\n")
        table.writerow(("value", "hue", "chroma", "x", "y", "to_next_hue"))
        for value, _, hue, chroma, *xy, way in rows:
            table.writerow((f"{value:g}", hue, f"{chroma:g}", *map("{:g}".format, xy), way))


if __name__ == "__main__":
    main()
