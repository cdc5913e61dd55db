"""Pictures for docs/physics.md of models: constants, surface, lamps and uncertainty."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.optimize import least_squares

from tools.pictures.drawing import (
    FAINT,
    INK,
    Axes,
    box,
    line,
    number,
    picture,
    text,
)
from tools.pictures.physics_parts import (
    NM_TICKS,
    WIDTH,
    Part,
    hex_of,
    joined,
    paint,
    seen,
    wavelengths,
)
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.hexes import hex_from_lab, hexes_from_lab
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.srgb import encoded_from_linear, linear_from_lab
from tubewise.optics.film import (
    opaque_reflectance,
)
from tubewise.optics.mixture import mix
from tubewise.optics.surface import (
    BARE,
    GLOSS,
    THEORETICAL,
    measured_from_internal,
)
from tubewise.pigments.models import optics, samples


def one_constant(*parts: Part) -> Floats:
    """Internal reflectance (36,) by the shortcut of one constant.

    Each paint's K/S is taken from a tint of one part in ten, every paint is held to scatter as
    white does, and K/S adds up by parts.
    """
    white, share = optics("PW6"), 0.1
    base = white.K / white.S
    ratio = np.zeros(36)
    for ref, n in parts:
        K, S = paint((ref, share), ("PW6", 1.0 - share))
        ratio += n * ((K / S - base) / share + base)
    return opaque_reflectance(np.maximum(ratio / sum(n for _, n in parts), 0.0), np.ones(36))


def screen_average(*parts: Part) -> str:
    """What adding lights gives: the linear screen colours averaged by parts."""
    shares = np.array([n for _, n in parts]) / sum(n for _, n in parts)
    labs = np.stack([lab_from_reflectance(seen(*paint((ref, 1)))) for ref, _ in parts])
    linear = np.clip(shares @ linear_from_lab(labs), 0.0, 1.0)
    rgb = np.rint(255.0 * encoded_from_linear(linear)).astype(int)
    return "#" + "".join(f"{v:02x}" for v in rgb)


def three_ways() -> str:
    """Four mixtures as light adds up, by the one-constant shortcut, and by two constants."""
    rows: tuple[tuple[Part, ...], ...] = (
        (("PY3", 4), ("PB15:3", 1)),
        (("PB29", 1), ("PW6", 4)),
        (("PY74", 2), ("PBk9", 1)),
        (("PR108/medium", 1), ("PG7", 1), ("PW6", 2)),
    )
    parts = [
        text(300, 20, "averaged lights", 11, "middle"),
        text(480, 20, "one constant", 11, "middle"),
        text(630, 20, "two constants", 11, "middle"),
    ]
    for i, row in enumerate(rows):
        y = 32 + 62 * i
        single = measured_from_internal(one_constant(*row))
        two = seen(*paint(*row))
        apart = float(delta_e_2000(lab_from_reflectance(single), lab_from_reflectance(two)))
        parts += [
            *(text(12, y + 20 + 15 * k, f"{n:g} {ref}", 12) for k, (ref, n) in enumerate(row)),
            box(230, y, 140, 52, screen_average(*row)),
            box(405, y, 150, 52, hex_of(single)),
            box(555, y, 150, 52, hex_of(two)),
            text(555, y + 48, f"{apart:.0f} apart", 10, "middle", 'fill="#ffffff"'),
        ]
    return picture(WIDTH, 32 + 62 * len(rows), "Four mixtures worked out in three ways", parts)


def surface() -> str:
    """What the skin of a film does to the light from inside."""
    R = np.linspace(0.0, 1.0, 41)
    axes = Axes(52, 30, 320, 220, (0.0, 1.0), (0.0, 1.0))
    ticks = (0, 0.25, 0.5, 0.75, 1)
    parts = [
        axes.frame(ticks, ticks, "reflectance inside the paint", "reflectance as measured"),
        axes.curve(R, measured_from_internal(R, BARE), FAINT, "2 3"),
        axes.curve(R, measured_from_internal(R, THEORETICAL), "#7a5a2e", "7 3"),
        axes.curve(R, measured_from_internal(R, GLOSS), INK),
    ]
    for i, (words, style) in enumerate(
        (
            ("no surface at all", f'stroke="{FAINT}" stroke-dasharray="2 3"'),
            ("theory, index 1.5: 0.040, 0.596", 'stroke="#7a5a2e" stroke-dasharray="7 3"'),
            ("gloss acrylic: 0.03, 0.65", f'stroke="{INK}"'),
        )
    ):
        y = 50 + 24 * i
        parts += [line(400, y, 436, y, style + ' stroke-width="2"'), text(446, y + 4, words, 12)]
    parts.append(text(400, 140, "A grey that sends back half of the light inside the film,", 12))
    parts.append(text(400, 156, "without the surface, and as seen through it:", 12))
    half = np.full(36, 0.5)
    for i, skin in enumerate((BARE, GLOSS)):
        parts.append(box(400 + 160 * i, 168, 160, 60, hex_of(measured_from_internal(half, skin))))
    return picture(WIDTH, 292, "Saunderson's surface correction", parts)


LAMPS = (
    ("D65", "daylight"),
    ("A", "incandescent"),
    ("FL2", "cool white tube"),
    ("FL11", "three-band tube"),
    ("LED-B3", "white LED"),
)


def matched(target: Floats, refs: Sequence[str]) -> tuple[Part, ...]:
    """Parts, not whole, whose mixture has the colour of reflectance `target` in daylight."""
    aim = lab_from_reflectance(target)

    def off(logs: Floats) -> Floats:
        parts = [(ref, float(n)) for ref, n in zip(refs, np.exp([0.0, *logs]), strict=True)]
        return np.asarray(lab_from_reflectance(seen(*paint(*parts))) - aim)

    found = least_squares(off, np.log(np.full(len(refs) - 1, 0.05)), xtol=1e-14, ftol=1e-14)
    return tuple(zip(refs, np.exp([0.0, *found.x]).tolist(), strict=True))


def metamerism() -> str:
    """Two greys, one of black and one of complements, that part under other lamps."""
    plain = seen(*paint(("PW6", 3), ("PBk11", 1)))
    made = matched(plain, ("PW6", "PG7", "PR122", "PY74"))
    other = seen(*paint(*made))
    axes = wavelengths(52, 150, 690, 120, 0.4)
    parts = [
        axes.frame(NM_TICKS, (0, 0.2, 0.4), "nanometres", "reflectance"),
        axes.curve(WAVELENGTHS_NM, plain, INK),
        axes.curve(WAVELENGTHS_NM, other, "#7a3a5e", "7 3"),
        text(736, 164, "line: white and PBk11; dashes: white, PG7, PR122 and PY74", 11, "end"),
    ]
    for i, (lamp, name) in enumerate(LAMPS):
        # Lab under each lamp is relative to that lamp's white: how the adapted eye sees it.
        labs = [lab_from_reflectance(R, lamp) for R in (plain, other)]
        x = 12 + 148 * i
        parts += [
            box(x, 10, 70, 76, hex_from_lab(labs[0])),
            box(x + 70, 10, 70, 76, hex_from_lab(labs[1])),
            text(x + 70, 102, f"{lamp}, {name}", 11, "middle"),
            text(x + 70, 117, f"{float(delta_e_2000(*labs)):.1f} apart", 11, "middle"),
        ]
    return picture(WIDTH, 308, "One pair of greys under five lamps", parts)


def uncertainty() -> str:
    """Many paints that could all be sold under the same three codes, mixed alike."""
    n, rng = 240, np.random.default_rng(19)
    recipe = (("PV19/gamma", 1.0), ("PB29", 1.0), ("PW6", 4.0))
    drawn = [samples(ref, n, rng) for ref, _ in recipe]
    K, S = mix(
        np.stack([k for k, _ in drawn], axis=1),
        np.stack([s for _, s in drawn], axis=1),
        [parts for _, parts in recipe],
    )
    labs = lab_from_reflectance(seen(K, S))
    best = lab_from_reflectance(seen(*paint(*recipe)))
    reach = float(np.percentile(delta_e_2000(labs, best), 95.0))
    hexes = hexes_from_lab(labs)
    axes = Axes(430, 30, 300, 220, (0.0, 45.0), (-45.0, -5.0))
    parts = [
        text(12, 22, "96 paints that fit the same three codes; in the middle, our estimate", 11),
        axes.frame((0, 15, 30, 45), (-45, -25, -5), "a*: redder →", "b*: bluer ↓"),
    ]
    for i, colour in enumerate(hexes[:96]):
        parts.append(box(12 + 32 * (i % 12), 30 + 27.5 * (i // 12), 32, 27.5, colour))
    parts.append(box(140, 112.5, 128, 55, hex_from_lab(best)))
    for lab, colour in zip(labs, hexes, strict=True):
        x, y = float(axes.across(lab[1])), float(axes.up(lab[2]))
        parts.append(f'<circle cx="{number(x)}" cy="{number(y)}" r="3.5" fill="{colour}"/>')
    x, y = float(axes.across(best[1])), float(axes.up(best[2]))
    parts += [
        line(x - 8, y, x + 8, y, f'stroke="{INK}" stroke-width="1.5"'),
        line(x, y - 8, x, y + 8, f'stroke="{INK}" stroke-width="1.5"'),
        text(12, 284, f"{joined(*recipe)}: 95 % within CIEDE2000 {reach:.1f}", 12),
    ]
    return picture(WIDTH, 298, "What the uncertainty of a prediction means", parts)
