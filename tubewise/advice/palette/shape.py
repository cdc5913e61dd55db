"""The shape of what is reached: how clean at each hue and lightness, and where it is poor."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.patch import Colour
from tubewise.colour.words import hue_family, hue_name
from tubewise.labels.phrasing import listing
from tubewise.search.body import EDGE, Body

HUES = 24
LIGHTNESSES = tuple(float(L) for L in range(15, 96, 10))
# A corner is named where at least so much of what others reach is missing, in CIELAB chroma.
POOR = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reached:
    """The cleanest colour at one `hue` (degrees) and `lightness`; `chroma` 0 where none is."""

    hue: float
    lightness: float
    chroma: float
    colour: Colour


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """What is reached at each hue and lightness, hue by hue from dark to light.

    `missing` names the corners in which it is poorest beside what could be had; `darkest` and
    `lightest` L* anywhere.
    """

    cells: tuple[Reached, ...]
    missing: tuple[str, ...]
    darkest: float
    lightest: float


def chroma_table(body: Body) -> Floats:
    """Greatest chroma (HUES, lightnesses) of a body in each sector of hue at each lightness."""
    n = len(body.low)
    side = np.arange(n) * body.step - EDGE
    a, b = np.meshgrid(side, side, indexing="ij")
    inside = np.isfinite(body.low)
    chroma = np.hypot(a, b)[inside]
    sector = (np.degrees(np.arctan2(b, a))[inside] % 360.0 / (360.0 / HUES)).astype(int) % HUES
    low, high = body.low[inside], body.high[inside]
    table = np.zeros((HUES, len(LIGHTNESSES)))
    for level, L in enumerate(LIGHTNESSES):
        here = (low <= L) & (high >= L)
        np.maximum.at(table[:, level], sector[here], chroma[here])
    return table


def hue_of(sector: int) -> float:
    """The middle of a sector in degrees."""
    return (sector + 0.5) * 360.0 / HUES


def shape_of(body: Body, beside: Body | None = None) -> Shape:
    """The shape of a body; what is missing is judged `beside` a larger one."""
    table = chroma_table(body)
    cells = tuple(
        Reached(
            hue=hue_of(sector),
            lightness=L,
            chroma=round(float(table[sector, level]), 1),
            colour=_colour(L, table[sector, level], hue_of(sector)),
        )
        for sector in range(HUES)
        for level, L in enumerate(LIGHTNESSES)
    )
    some = np.isfinite(body.low)
    return Shape(
        cells=cells,
        missing=missing(table, chroma_table(beside)) if beside is not None else (),
        darkest=round(float(body.low[some].min()), 1) if some.any() else 0.0,
        lightest=round(float(body.high[some].max()), 1) if some.any() else 0.0,
    )


def _colour(L: float, chroma: float, hue: float) -> Colour:
    turn = np.radians(hue)
    return Colour.of([L, chroma * np.cos(turn), chroma * np.sin(turn)])


def missing(table: Floats, beside: Floats, most: int = 3) -> tuple[str, ...]:
    """The hues in which most chroma is missing beside another table, the worst first."""
    lacking = np.maximum(beside - table, 0.0)
    named: dict[str, tuple[float, str]] = {}
    for sector in range(HUES):
        level = int(np.argmax(lacking[sector]))
        short = float(lacking[sector, level])
        family = hue_family(hue_of(sector))
        if short >= POOR and short > named.get(family, (0.0, ""))[0]:
            words = _depth(LIGHTNESSES[level])
            named[family] = (short, f"clean {words}{family}: {short:.0f} of chroma short")
    ranked = sorted(named.values(), key=lambda entry: -entry[0])
    return tuple(words for _, words in ranked[:most])


def _depth(lightness: float) -> str:
    if lightness < 35.0:
        return "dark "
    return "light " if lightness > 70.0 else ""


def where_it_matters(before: Floats, after: Floats) -> str:
    """In which hues one table of chroma falls most behind another, in words; "" where nowhere.

    `before` is the larger.
    """
    lost = np.maximum(before - after, 0.0).sum(axis=1)
    if lost.max() < POOR:
        return ""
    families: dict[str, float] = {}
    for sector in range(HUES):
        family = hue_family(hue_of(sector))
        families[family] = families.get(family, 0.0) + float(lost[sector])
    ranked = sorted(families.items(), key=lambda entry: -entry[1])
    kept = [name for name, loss in ranked[:3] if loss >= 0.4 * ranked[0][1]]
    return listing([f"{name}s" for name in kept])


@dataclass(frozen=True, slots=True, kw_only=True)
class HueRow:
    """The cells of one hue from dark to light, under a painter's name for it."""

    name: str
    cells: tuple[Reached, ...]


def reached_by_hue(shape: Shape) -> tuple[HueRow, ...]:
    """The shape hue by hue, two sectors together: of each lightness the cleaner cell."""
    levels = len(LIGHTNESSES)
    rows = []
    for start in range(0, HUES, 2):
        pairs = zip(
            shape.cells[start * levels : (start + 1) * levels],
            shape.cells[(start + 1) * levels : (start + 2) * levels],
            strict=True,
        )
        turn = np.radians((start + 1) * 360.0 / HUES)
        name = hue_name([50.0, 45.0 * np.cos(turn), 45.0 * np.sin(turn)])
        cells = tuple(max(pair, key=lambda cell: cell.chroma) for pair in pairs)
        rows.append(HueRow(name=_bare(name), cells=cells))
    return tuple(rows)


def _bare(name: str) -> str:
    """A hue's name without what it says of depth and cleanness, which the row shows."""
    for word in ("deep ", "light ", "pale ", "dull ", "bright "):
        name = name.removeprefix(word)
    return {"brown": "orange", "yellow-brown": "yellow-orange", "olive": "yellow"}.get(name, name)
