"""The page of pigments: `python -m tools.register_page` writes docs/pigments.md and pictures.

One picture a hue, one row a colour of the register: the drawdown strip (a film thinning from left
to right over a white card with a narrow black band), its tints in white, and the curves behind it.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Sequence
from html import escape
from pathlib import Path

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.hexes import hexes_from_lab
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import BLACK_GROUND, WHITE_GROUND, opaque_reflectance
from tubewise.optics.surface import measured_from_internal
from tubewise.paints.strip import BLACK_BAND, DRAWN, THICKNESSES, wash_labs
from tubewise.pigments.models import PigmentOptics, optics
from tubewise.pigments.pigment import Pigment
from tubewise.pigments.register import load
from tubewise.pigments.terms import HUES

TINT_SHARES = (0.5, 0.2, 0.1, 0.05, 0.02)
ROW, LEFT, CELL = 64, 190, 17
STEPS = len(THICKNESSES[DRAWN])
PAPER, INK, FAINT = "#f7f3ea", "#2b2622", "#b9b0a2"


def name_of(pigment: Pigment) -> str:
    """The first name in the trade; for a code with forms, which share names, the chemical one."""
    return pigment.names[0] if pigment.names and not pigment.forms else pigment.chemical


def shortened(name: str, length: int = 32) -> str:
    """A name that fits beside its strip."""
    return name if len(name) <= length else name[: length - 1].rstrip() + "…"


def film_hexes(found: PigmentOptics, ground: float) -> list[str]:
    """Colours of the thinning film over a ground of internal reflectance `ground`."""
    return hexes_from_lab(wash_labs(found.K, found.S, ground)[DRAWN])


def mixture_reflectance(found: PigmentOptics, share: float) -> Floats:
    """As-measured reflectance (36,) of an opaque mixture with titanium white."""
    white = optics("PW6")
    K = share * found.K + (1.0 - share) * white.K
    S = share * found.S + (1.0 - share) * white.S
    return measured_from_internal(opaque_reflectance(K, S))


def polyline(values: Floats, x: float, y: float, width: float, height: float, style: str) -> str:
    """A curve over the visible range; values 0 to 1 from the bottom to the top of its box."""
    xs = x + width * (WAVELENGTHS_NM - WAVELENGTHS_NM[0]) / np.ptp(WAVELENGTHS_NM)
    ys = y + height * (1.0 - np.clip(values, 0.0, 1.0))
    points = " ".join(f"{a:.0f},{b:.1f}" for a, b in zip(xs, ys, strict=True))
    return f'<polyline points="{points}" fill="none" {style}/>'


def logarithmic(values: Floats) -> Floats:
    """K or S on a scale of four decades, 0.001 to 10, as 0 to 1."""
    return (np.log10(np.maximum(values, 1e-6)) + 3.0) / 4.0


def row_svg(found: PigmentOptics, name: str, top: float) -> str:
    """One colour's row of the picture, `top` pixels down."""
    parts = [
        f'<text x="8" y="{top + 24}" font-size="15">{escape(found.ref)}</text>',
        f'<text x="8" y="{top + 42}" font-size="10">{escape(name)}</text>',
    ]
    band = 48.0 * BLACK_BAND
    for ground, y, height in (
        (WHITE_GROUND, top + 8.0, 48.0),
        (BLACK_GROUND, top + 32.0 - band / 2.0, band),
    ):
        parts += [
            f'<rect x="{LEFT + i * CELL}" y="{y:g}" width="{CELL}" height="{height:g}" '
            f'fill="{colour}"/>'
            for i, colour in enumerate(film_hexes(found, ground))
        ]
    x = LEFT + CELL * STEPS + 10
    tints = np.stack([mixture_reflectance(found, share) for share in TINT_SHARES])
    for colour in hexes_from_lab(lab_from_reflectance(tints)):
        parts.append(f'<rect x="{x}" y="{top + 8}" width="26" height="48" fill="{colour}"/>')
        x += 26
    x += 12
    masstone = measured_from_internal(opaque_reflectance(found.K, found.S))
    for panel in range(2):
        left = x + panel * 132
        parts.append(
            f'<rect x="{left}" y="{top + 8}" width="120" height="48" fill="none" stroke="{FAINT}"/>'
        )
    box = (top + 8, 120.0, 48.0)
    parts += [
        polyline(masstone, x, *box, f'stroke="{INK}"'),
        polyline(tints[2], x, *box, f'stroke="{INK}" stroke-dasharray="3 2"'),
        polyline(logarithmic(found.K), x + 132, *box, f'stroke="{INK}"'),
        polyline(logarithmic(found.S), x + 132, *box, f'stroke="{INK}" stroke-dasharray="3 2"'),
    ]
    return "".join(parts)


def picture(rows: Sequence[tuple[PigmentOptics, str]], title: str) -> str:
    """The SVG of one hue."""
    width = LEFT + CELL * STEPS + 10 + 26 * len(TINT_SHARES) + 12 + 264
    height = ROW * len(rows) + 8
    body = "\n".join(row_svg(found, name, i * ROW) for i, (found, name) in enumerate(rows))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}" font-family="Georgia, serif" fill="{INK}" '
        f'role="img">\n<title>{escape(title)}</title>\n'
        f'<rect width="{width}" height="{height}" fill="{PAPER}"/>\n{body}\n</svg>\n'
    )


def table_row(found: PigmentOptics, pigment: Pigment) -> str:
    """One colour's row of the Markdown table."""
    masstone, tint = (
        lab_from_reflectance(R)
        for R in (
            measured_from_internal(opaque_reflectance(found.K, found.S)),
            mixture_reflectance(found, 0.1),
        )
    )

    def polar(lab: Floats) -> str:
        hue = np.degrees(np.arctan2(lab[2], lab[1])) % 360.0
        return f"{lab[0]:.0f} {np.hypot(lab[1], lab[2]):.0f} {hue:.0f}"

    return (
        f"| {found.ref} | {name_of(pigment)} | {polar(masstone)} | {polar(tint)} "
        f"| {found.basis} | {found.confidence} | {found.note} |"
    )


def sections(pigments: Iterable[Pigment]) -> dict[str, list[tuple[PigmentOptics, Pigment]]]:
    """Every colour of the register by hue, in the order of the register."""
    found: dict[str, list[tuple[PigmentOptics, Pigment]]] = {hue: [] for hue in HUES}
    for pigment in pigments:
        refs = pigment.refs
        found[pigment.hue] += [(optics(ref), pigment) for ref in refs]
    return {hue: rows for hue, rows in found.items() if rows}


INTRODUCTION = """# The pigments, as modelled and measured

Every colour of the register, written by `python -m tools.register_page`. Each is *modelled*, or
*measured (published)* where somebody published a measurement of a paint of that pigment;
[how far to trust it](accuracy.md) stands on a page of its own.

In the pictures, left to right: a film thinning over a white card that a narrow black band crosses;
tints with 1, 4, 9, 19 and 49 parts of titanium white; reflectance from 380 to 730 nm
of the masstone (line) and of the tint with 9 parts of white (dashes); absorption K (line) and
scattering S (dashes) on a scale of four decades, 0.001 to 10, white scattering 1.

In the tables, colours are L\\* C\\*ab h (D65, 2°); the tint is one part in ten by volume.
"""


def write_page(folder: Path) -> list[Path]:
    """Write pigments.md and its pictures under `folder`; returns the files written."""
    pictures = folder / "pigments"
    pictures.mkdir(parents=True, exist_ok=True)
    written: list[Path] = []
    text = [INTRODUCTION]
    for hue, rows in sections(load()).items():
        path = pictures / f"{hue}.svg"
        short = [(found, shortened(name_of(pigment))) for found, pigment in rows]
        path.write_text(picture(short, f"Strips of the {hue} pigments"), encoding="utf-8")
        written.append(path)
        text += [
            f"\n## {hue.capitalize()}\n",
            f"![Strips, tints and curves of the {hue} pigments](pigments/{hue}.svg)\n",
            "| pigment | name | masstone | tint | basis | confidence | note |",
            "| --- | --- | --- | --- | --- | --- | --- |",
            *(table_row(found, pigment) for found, pigment in rows),
        ]
    page = folder / "pigments.md"
    page.write_text("\n".join(text) + "\n", encoding="utf-8")
    return [page, *written]


def main(argv: Sequence[str] | None = None) -> int:
    """Write the page into docs/, or the folder named."""
    parser = argparse.ArgumentParser(prog="python -m tools.register_page", description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=Path("docs"))
    args = parser.parse_args(argv)
    try:
        written = write_page(args.folder)
    except OSError as error:
        print(f"cannot write the page: {error}", file=sys.stderr)
        return 2
    print(f"{len(written)} files written to {args.folder}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
