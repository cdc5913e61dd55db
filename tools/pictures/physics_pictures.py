"""Pictures for docs/physics.md, each computed from the tool's own optics.

Colours on the screen are those of D65 and the 2 degree observer, as a spectrophotometer reads a
gloss film with specular included. Where something is drawn at random, the seed is fixed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from scipy.optimize import least_squares

from tools.pictures.drawing import (
    FAINT,
    INK,
    Axes,
    Floats,
    box,
    fading,
    line,
    number,
    picture,
    text,
)
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.srgb import (
    encoded_from_linear,
    hex_from_lab,
    hexes_from_lab,
    linear_from_lab,
)
from tubewise.optics.film import (
    BLACK_GROUND,
    DRAWDOWN_FILM,
    WHITE_GROUND,
    film_reflectance,
    opaque_reflectance,
)
from tubewise.optics.hiding import contrast_ratio
from tubewise.optics.mixture import mix
from tubewise.optics.surface import (
    BARE,
    GLOSS,
    THEORETICAL,
    Surface,
    measured_from_internal,
)
from tubewise.pigments.models import optics, samples

WIDTH = 760
Part = tuple[str, float]


def paint(*parts: Part) -> tuple[Floats, Floats]:
    """K and S (36,) of a mixture, its parts as (pigment, parts by volume)."""
    found = [optics(ref) for ref, _ in parts]
    return mix(
        np.stack([o.K for o in found]), np.stack([o.S for o in found]), [n for _, n in parts]
    )


def seen(K: Floats, S: Floats, surface: Surface = GLOSS) -> Floats:
    """Reflectance of the opaque film as an instrument reads it."""
    return measured_from_internal(opaque_reflectance(K, S), surface)


def hex_of(R: Floats) -> str:
    """Its screen colour."""
    return hex_from_lab(lab_from_reflectance(R))


def said(*parts: Part) -> str:
    """A mixture in words: `1 PV19/gamma + 4 PW6`."""
    return " + ".join(f"{n:g} {ref}" for ref, n in parts)


def wavelengths(x: float, y: float, width: float, height: float, top: float = 1.0) -> Axes:
    """Axes of reflectance over wavelength."""
    return Axes(x, y, width, height, (380.0, 730.0), (0.0, top))


NM_TICKS = (400, 500, 600, 700)


def strips() -> str:
    """Eight pigments as drawdown strips."""
    rows = (
        ("PW6", "titanium white"),
        ("PY3", "lemon yellow"),
        ("PR108/medium", "cadmium red"),
        ("PV19/gamma", "quinacridone rose"),
        ("PB29", "ultramarine"),
        ("PB15:3", "phthalo blue"),
        ("PG7", "phthalo green"),
        ("PBr7/burnt-sienna", "burnt sienna"),
    )
    X = DRAWDOWN_FILM * np.geomspace(1.0, 0.004, 25)
    tints = (1, 3, 10, 30)
    parts = [
        text(150, 20, "a film thinning over white and over black", 11),
        text(562, 20, "1 part in 1, 3, 10, 30 of white", 11),
    ]
    for i, (ref, name) in enumerate(rows):
        y = 32 + i * 58
        found = optics(ref)
        parts += [text(12, y + 22, ref, 13), text(12, y + 38, name, 11)]
        for half, ground in enumerate((WHITE_GROUND, BLACK_GROUND)):
            R = measured_from_internal(film_reflectance(found.K, found.S, X[:, None], ground))
            hexes = hexes_from_lab(lab_from_reflectance(R))
            parts.append(fading(f"s{i}{half}", 150, y + 24 * half, 400, 24, hexes))
        for j, n in enumerate(tints):
            colour = hex_of(seen(*paint((ref, 1), ("PW6", n))))
            parts.append(box(562 + 46 * j, y, 46, 48, colour))
    return picture(WIDTH, 32 + 58 * len(rows), "Drawdown strips of eight pigments", parts)


def two_numbers() -> str:
    """K and S of three paints, and the reflectance that follows."""
    shown = (("PW6", "#8a8378"), ("PR108/medium", "#c22b22"), ("PB15:3", "#12418c"))
    left = Axes(52, 30, 190, 190, (380.0, 730.0), (0.001, 10.0), log_y=True)
    middle = Axes(300, 30, 190, 190, (380.0, 730.0), (0.001, 10.0), log_y=True)
    right = wavelengths(548, 30, 190, 190)
    decades = (0.001, 0.01, 0.1, 1, 10)
    parts = [
        left.frame(NM_TICKS, decades, "nanometres", "absorption K"),
        middle.frame(NM_TICKS, decades, "nanometres", "scattering S"),
        right.frame(NM_TICKS, (0, 0.5, 1), "nanometres", "reflectance of a thick film"),
    ]
    for i, (ref, colour) in enumerate(shown):
        found = optics(ref)
        dashes = ("", "7 3", "2 3")[i]
        parts += [
            left.curve(WAVELENGTHS_NM, found.K, colour, dashes),
            middle.curve(WAVELENGTHS_NM, found.S, colour, dashes),
            right.curve(WAVELENGTHS_NM, seen(found.K, found.S), colour, dashes),
            line(
                60 + 190 * i,
                274,
                90 + 190 * i,
                274,
                f'stroke="{colour}" stroke-width="2"'
                + (f' stroke-dasharray="{dashes}"' if dashes else ""),
            ),
            text(138 + 190 * i, 278, ref, 12),
            box(96 + 190 * i, 264, 34, 18, hex_of(seen(found.K, found.S))),
        ]
    return picture(WIDTH, 296, "Absorption, scattering and reflectance of three paints", parts)


def hiding() -> str:
    """How the contrast over a card goes as the film thickens."""
    shown = (
        ("PW6", "#6d675d"),
        ("PW4", "#a59c8c"),
        ("PR108/medium", "#c22b22"),
        ("PV19/gamma", "#b0346a"),
        ("PB60", "#1d2b6b"),
    )
    X = np.geomspace(0.05, 40.0, 60)
    axes = Axes(52, 30, 420, 210, (-1.301, 1.602), (0.0, 1.0))
    parts = [
        axes.frame((), (0, 0.5, 0.98), "", "contrast ratio: Y over black / Y over white"),
        text(262, 272, "thickness of the film (5 is an ordinary drawdown)", 11, "middle"),
    ]
    for tick in (0.05, 0.5, 5, 40):
        at = float(axes.across(np.log10(tick)))
        parts += [line(at, 240, at, 244), text(at, 255, f"{tick:g}", 10, "middle")]
    limit = float(axes.up(0.98))
    parts.append(line(52, limit, 472, limit, f'stroke="{INK}" stroke-dasharray="2 3"'))
    parts.append(text(58, limit + 14, "above the dots it hides", 10))
    for i, (ref, colour) in enumerate(shown):
        found = optics(ref)
        ratio = [float(contrast_ratio(found.K, found.S, float(x))) for x in X]
        dashes = ("", "7 3", "2 3", "9 3 2 3", "4 2")[i]
        y = 48 + 40 * i
        films = [
            hex_of(measured_from_internal(film_reflectance(found.K, found.S, 1.0, ground)))
            for ground in (WHITE_GROUND, BLACK_GROUND)
        ]
        parts += [
            axes.curve(np.log10(X), ratio, colour, dashes),
            line(
                496,
                y,
                526,
                y,
                f'stroke="{colour}" stroke-width="2"'
                + (f' stroke-dasharray="{dashes}"' if dashes else ""),
            ),
            text(534, y + 4, ref, 12),
            box(650, y - 14, 44, 28, films[0]),
            box(694, y - 14, 44, 28, films[1]),
        ]
    parts.append(text(738, 26, "thickness 1, on white | on black", 10, "end"))
    return picture(WIDTH, 284, "Hiding power of five paints against film thickness", parts)


def dioxazine() -> str:
    """PV23 from full strength to a pale tint: colours above, curves below."""
    tints = (0, 3, 10, 30, 100, 300)
    axes = wavelengths(52, 118, 690, 170)
    parts = [axes.frame(NM_TICKS, (0, 0.5, 1), "nanometres", "reflectance")]
    for i, n in enumerate(tints):
        R = seen(*paint(("PV23", 1), ("PW6", n)) if n else paint(("PV23", 1)))
        colour = hex_of(R)
        x = 12 + 123 * i
        parts += [
            box(x, 10, 121, 56, colour),
            text(x + 60, 82, f"1 in {n} of white" if n else "alone", 11, "middle"),
            axes.curve(WAVELENGTHS_NM, R, "#6f57a8" if n else colour),
        ]
    return picture(WIDTH, 326, "Dioxazine violet, PV23, alone and in more and more white", parts)


def two_reds() -> str:
    """Three reds, their absorption, and the violets they give with ultramarine and white."""
    reds = ("PV19/gamma", "PR209", "PR108/medium")
    left = Axes(52, 116, 300, 180, (380.0, 730.0), (0.0, 1.1))
    right = wavelengths(420, 116, 318, 180, 0.8)
    parts = [
        left.frame(NM_TICKS, (0, 0.5, 1), "nanometres", "absorption K, highest = 1"),
        right.frame(NM_TICKS, (0, 0.4, 0.8), "nanometres", "reflectance of the violets"),
    ]
    blue = optics("PB29")
    parts.append(left.curve(WAVELENGTHS_NM, blue.K / blue.K.max(), "#3a48b0", "1 3"))
    parts.append(text(300, 150, "PB29", 11, "middle", 'fill="#3a48b0"'))
    for i, ref in enumerate(reds):
        found = optics(ref)
        R = seen(*paint((ref, 1), ("PB29", 1), ("PW6", 4)))
        alone, violet = hex_of(seen(found.K, found.S)), hex_of(R)
        lab = lab_from_reflectance(R)
        x, dashes = 12 + 246 * i, ("", "7 3", "2 3")[i]
        parts += [
            box(x, 10, 60, 48, alone),
            box(x + 60, 10, 180, 48, violet),
            text(x, 74, said((ref, 1), ("PB29", 1), ("PW6", 4)), 11),
            text(x, 89, f"chroma {np.hypot(lab[1], lab[2]):.0f}", 11),
            left.curve(WAVELENGTHS_NM, found.K / found.K.max(), alone, dashes),
            right.curve(WAVELENGTHS_NM, R, alone, dashes),
        ]
    return picture(WIDTH, 334, "Three reds, each mixed with ultramarine and white", parts)


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
        one = measured_from_internal(one_constant(*row))
        two = seen(*paint(*row))
        apart = float(delta_e_2000(lab_from_reflectance(one), lab_from_reflectance(two)))
        parts += [
            *(text(12, y + 20 + 15 * k, f"{n:g} {ref}", 12) for k, (ref, n) in enumerate(row)),
            box(230, y, 140, 52, screen_average(*row)),
            box(405, y, 150, 52, hex_of(one)),
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
        text(12, 284, f"{said(*recipe)}: 95 % within CIEDE2000 {reach:.1f}", 12),
    ]
    return picture(WIDTH, 298, "What the uncertainty of a prediction means", parts)


PHYSICS: dict[str, Callable[[], str]] = {
    "strips": strips,
    "two-numbers": two_numbers,
    "hiding": hiding,
    "dioxazine": dioxazine,
    "two-reds": two_reds,
    "three-ways": three_ways,
    "surface": surface,
    "metamerism": metamerism,
    "uncertainty": uncertainty,
}
