"""Reach of the demo box: `python -m tools.pictures.munsell_targets` writes munsell-targets.md.

Targets: the reflectances of 1,269 matt painted Munsell chips measured at the University of Eastern
Finland, from the data files of luxpy (whose code is not used). Box: seat 1 of the demo workshop.
"""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

import numpy as np

from tools.pictures.drawing import FAINT, INK, picture, text
from tubewise.advice.recipes.metamerism import special_metamerism
from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.hexes import hexes_from_lab
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.lights import weights, white_xyz
from tubewise.demo.workshop import folder
from tubewise.paints.shelf import Shelf
from tubewise.search.batch import search_many
from tubewise.search.problem import SearchProblem
from tubewise.tubes.catalogue import read_boxes

DOCS = Path(__file__).parents[2] / "docs"
MAX_PAINTS = 4
# CIEDE2000 below which a recipe counts as reaching its target: hardly seen side by side.
REACHED = 2.0
PANELS = (
    ("dark: L* below 45", 0.0, 45.0),
    ("middle", 45.0, 65.0),
    ("light: L* from 65", 65.0, 101.0),
)


def chips() -> Floats:
    """Reflectances (1269, 36) on our grid. FileNotFoundError where luxpy's data are not there."""
    found = find_spec("luxpy")
    if found is None or found.origin is None:
        raise FileNotFoundError("luxpy's data files are not installed; `make test` installs them")
    table = np.loadtxt(
        Path(found.origin).parent / "data" / "rfls" / "Munsell1269.dat", delimiter=","
    )
    R: Floats = table[np.searchsorted(table[:, 0], WAVELENGTHS_NM), 1:].T
    return R


def solved(R: Floats) -> tuple[Floats, Floats, Floats]:
    """For chips R (n, 36): CIEDE2000, metamerism under A and under LED-B3, each (n,)."""
    box = next(b for b in read_boxes(folder() / "boxes.csv") if b.seat == "1")
    paints = [p for p in map(Shelf(box.tubes).tube, box.tubes) if p is not None]
    ask = SearchProblem(
        K=np.stack([p.K[0] for p in paints]),
        S=np.stack([p.S[0] for p in paints]),
        weights=weights(),
        whites=white_xyz(),
        target_lab=np.zeros(3),
        max_paints=MAX_PAINTS,
        alternatives=0,
        prove=False,
    )
    labs = lab_from_reflectance(R)
    results = list(search_many(ask, labs))
    shifts = [special_metamerism(t, r.best.reflectance) for t, r in zip(R, results, strict=True)]
    return (
        np.array([r.best.delta_e00[0] for r in results]),
        np.array([s["A"] for s in shifts]),
        np.array([s["LED-B3"] for s in shifts]),
    )


def draw(labs: Floats, delta: Floats) -> str:
    """The chips in the a*b* plane: a dot where the box reaches them, a ring where it does not."""
    size, reach = 250.0, 100.0
    parts = []
    colours = hexes_from_lab(labs)
    for at, (title, low, high) in enumerate(PANELS):
        x0, y0 = 10.0 + at * (size + 10.0) + size / 2.0, 40.0 + size / 2.0
        parts.append(text(x0, 24.0, title, 13, "middle"))
        for dx, dy in ((1.0, 0.0), (0.0, 1.0)):
            parts.append(
                f'<path d="M{x0 - dx * size / 2:.1f} {y0 - dy * size / 2:.1f}'
                f'L{x0 + dx * size / 2:.1f} {y0 + dy * size / 2:.1f}" stroke="{FAINT}"/>'
            )
        for i in np.flatnonzero((labs[:, 0] >= low) & (labs[:, 0] < high)):
            x = x0 + labs[i, 1] / reach * size / 2.0
            y = y0 - labs[i, 2] / reach * size / 2.0
            look = (
                f'fill="{colours[i]}"'
                if delta[i] < REACHED
                else f'fill="none" stroke="{INK}" stroke-width="0.8"'
            )
            parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3" {look}/>')
        parts.append(text(x0 + size / 2.0, y0 - 4.0, "a*", 11, "end"))
        parts.append(text(x0 + 5.0, y0 - size / 2.0 + 9.0, "b*", 11))
    return picture(
        3 * (size + 10.0) + 10.0,
        size + 60.0,
        "Painted chips in the a*b* plane, filled where the box reaches them",
        parts,
    )


def page(delta: Floats, under_a: Floats, under_led: Floats) -> str:
    """The page's text."""

    def row(name: str, values: Floats) -> str:
        q = np.percentile(values, [50, 75, 95, 100])
        return f"| {name} | " + " | ".join(f"{v:.2f}" for v in q) + " |"

    shares = " ".join(
        f"{100 * np.mean(delta < limit):.0f} % come out within CIEDE2000 {limit:g}{end}"
        for limit, end in ((1.0, ","), (2.0, ","), (5.0, "."))
    )
    reached = delta < REACHED
    alt = "Chips in the a*b* plane: a dot where the box reaches them, a ring where it does not"
    return f"""# How far one box reaches

The box of seat 1 in the demo workshop, eleven acrylic tubes with *modelled* optics, was asked for
each of {len(delta):,} painted Munsell chips, whose reflectances were *measured* at the University
of Eastern Finland (matt collection, from the data files of luxpy). At most {MAX_PAINTS} tubes, in
any proportions. {shares} The recipes are the search's first good answers; that
none is better was not proved here (see [recipe-search.md](recipe-search.md)).

![{alt}](pictures/munsell-targets.svg)

| CIEDE2000 | median | 75 % | 95 % | worst |
| --- | --- | --- | --- | --- |
{row("distance under D65, all chips", delta)}
{row("under illuminant A, reached chips", under_a[reached])}
{row("under LED-B3, reached chips", under_led[reached])}

The second and third rows are the special index of metamerism (CIE 015:2018): how far apart a chip
and the mixture that matches it by daylight drift under another lamp. Rings are colours that are too
clean for these eleven tubes, or too light or dark for their surface; the box has no orange, and its
only opaque red is a cadmium.

Written by `python -m tools.pictures.munsell_targets`.
"""


def main() -> None:
    """Write the page and its picture."""
    R = chips()
    delta, under_a, under_led = solved(R)
    (DOCS / "pictures" / "munsell-targets.svg").write_text(
        draw(lab_from_reflectance(R), delta), encoding="utf-8"
    )
    (DOCS / "munsell-targets.md").write_text(page(delta, under_a, under_led), encoding="utf-8")


if __name__ == "__main__":
    main()
