"""Pictures for docs/physics.md of paints: strips, two numbers, hiding, tints and reds."""

from __future__ import annotations

import numpy as np

from tools.pictures.drawing import (
    INK,
    Axes,
    box,
    fading,
    line,
    picture,
    text,
)
from tools.pictures.physics_parts import (
    NM_TICKS,
    WIDTH,
    hex_of,
    joined,
    paint,
    seen,
    wavelengths,
)
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.hexes import hexes_from_lab
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import (
    BLACK_GROUND,
    WHITE_GROUND,
    film_reflectance,
)
from tubewise.optics.hiding import contrast_ratio
from tubewise.optics.surface import (
    measured_from_internal,
)
from tubewise.paints.strip import BLACK_BAND, DRAWN, wash_labs
from tubewise.pigments.models import optics


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
    tints = (1, 3, 10, 30)
    parts = [
        text(150, 20, "a film thinning over a white card with a black band", 11),
        text(562, 20, "1 part in 1, 3, 10, 30 of white", 11),
    ]
    for i, (ref, name) in enumerate(rows):
        y = 32 + i * 58
        found = optics(ref)
        parts += [text(12, y + 22, ref, 13), text(12, y + 38, name, 11)]
        band = 48 * BLACK_BAND
        for name, ground, down, height in (
            ("w", WHITE_GROUND, 0.0, 48.0),
            ("k", BLACK_GROUND, 24 - band / 2, band),
        ):
            hexes = hexes_from_lab(wash_labs(found.K, found.S, ground)[DRAWN])
            parts.append(fading(f"{name}{i}", 150, y + down, 400, height, hexes))
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
            text(x, 74, joined((ref, 1), ("PB29", 1), ("PW6", 4)), 11),
            text(x, 89, f"chroma {np.hypot(lab[1], lab[2]):.0f}", 11),
            left.curve(WAVELENGTHS_NM, found.K / found.K.max(), alone, dashes),
            right.curve(WAVELENGTHS_NM, R, alone, dashes),
        ]
    return picture(WIDTH, 334, "Three reds, each mixed with ultramarine and white", parts)
