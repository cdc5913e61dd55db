"""Small SVG pieces for the pictures of docs/: swatches, thinning films, curves on axes.

Every function returns text. Numbers are written to a tenth of a pixel, so that a picture made
again is the same file.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats

PAPER, INK, FAINT = "#f7f3ea", "#2b2622", "#b9b0a2"
FONT = "Georgia, serif"


def number(value: float) -> str:
    """A coordinate, to a tenth, without a trailing zero or a negative nought."""
    return f"{round(float(value), 1) + 0.0:g}"


def text(
    x: float, y: float, words: str, size: float = 12, anchor: str = "start", more: str = ""
) -> str:
    """Words with their baseline at (x, y); `anchor` is start, middle or end."""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" '
        f'text-anchor="{anchor}"{" " + more if more else ""}>{escape(words)}</text>'
    )


def box(x: float, y: float, width: float, height: float, fill: str, stroke: str = "") -> str:
    """A filled rectangle."""
    line = f' stroke="{stroke}"' if stroke else ""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" '
        f'height="{number(height)}" fill="{fill}"{line}/>'
    )


def line(x1: float, y1: float, x2: float, y2: float, style: str = f'stroke="{FAINT}"') -> str:
    """A straight line."""
    return (
        f'<line x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}" {style}/>'
    )


def fading(name: str, x: float, y: float, width: float, height: float, hexes: Sequence[str]) -> str:
    """A band of colour that runs through `hexes` from left to right; `name` is its id."""
    stops = "".join(
        f'<stop offset="{i / (len(hexes) - 1):.3f}" stop-color="{colour}"/>'
        for i, colour in enumerate(hexes)
    )
    return f'<linearGradient id="{name}">{stops}</linearGradient>' + box(
        x, y, width, height, f"url(#{name})"
    )


@dataclass(frozen=True, slots=True)
class Axes:
    """A box to draw curves in: its place in pixels, and the range of values along each side.

    With `log_y` the upright scale is logarithmic.
    """

    x: float
    y: float
    width: float
    height: float
    x_range: tuple[float, float]
    y_range: tuple[float, float]
    log_y: bool = False

    def across(self, values: ArrayLike) -> Floats:
        """Pixels across for values."""
        low, high = self.x_range
        return self.x + self.width * (np.asarray(values, dtype=np.float64) - low) / (high - low)

    def up(self, values: ArrayLike) -> Floats:
        """Pixels down for values, kept inside the box."""
        v, limits = np.asarray(values, dtype=np.float64), np.asarray(self.y_range)
        if self.log_y:
            v, limits = np.log10(np.maximum(v, 1e-9)), np.log10(limits)
        share = np.clip((v - limits[0]) / (limits[1] - limits[0]), 0.0, 1.0)
        return np.asarray(self.y + self.height * (1.0 - share))

    def frame(
        self,
        x_ticks: Sequence[float],
        y_ticks: Sequence[float],
        x_label: str = "",
        y_label: str = "",
    ) -> str:
        """The box with its ticks and what they count."""
        parts = [box(self.x, self.y, self.width, self.height, "none", FAINT)]
        bottom = self.y + self.height
        for tick in x_ticks:
            at = float(self.across(tick))
            parts.append(line(at, bottom, at, bottom + 4))
            parts.append(text(at, bottom + 15, f"{tick:g}", 10, "middle"))
        for tick in y_ticks:
            at = float(self.up(tick))
            parts.append(line(self.x - 4, at, self.x, at))
            parts.append(text(self.x - 6, at + 3.5, f"{tick:g}", 10, "end"))
        if x_label:
            parts.append(text(self.x + self.width / 2, bottom + 29, x_label, 11, "middle"))
        if y_label:
            parts.append(text(self.x, self.y - 7, y_label, 11))
        return "".join(parts)

    def curve(self, x: ArrayLike, y: ArrayLike, colour: str, dashes: str = "") -> str:
        """A curve through points, `x` and `y` of one length."""
        points = " ".join(
            f"{number(a)},{number(b)}" for a, b in zip(self.across(x), self.up(y), strict=True)
        )
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        return (
            f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="1.8"'
            f' stroke-linejoin="round"{dashed}/>'
        )


def picture(width: float, height: float, title: str, parts: Sequence[str]) -> str:
    """A whole SVG file on the warm paper ground; `title` says what a reader would see."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(width)} {number(height)}" '
        f'width="{number(width)}" height="{number(height)}" font-family="{FONT}" fill="{INK}" '
        f'role="img">\n<title>{escape(title)}</title>\n'
        f'<rect width="100%" height="100%" fill="{PAPER}"/>\n' + "\n".join(parts) + "\n</svg>\n"
    )
