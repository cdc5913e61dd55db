"""What a palette reaches, drawn as painted circles by hue and lightness."""

from __future__ import annotations

from markupsafe import Markup

from tubewise.advice.palette.shape import LIGHTNESSES, Shape, reached_by_hue

# A cell's width and height, the space for the hue's name, and the chroma that fills a cell.
_WIDE, _HIGH, _NAMES, _FULL = 40, 30, 120, 90.0


def reach_svg(shape: Shape, words: str) -> Markup:
    """Hues downwards, from dark to light to the right; the larger the circle the cleaner."""
    rows = reached_by_hue(shape)
    parts = [
        Markup('<text class="ticktext" x="{}" y="14" text-anchor="middle">{:g}</text>').format(
            _NAMES + (i + 0.5) * _WIDE, L
        )
        for i, L in enumerate(LIGHTNESSES)
    ]
    for down, row in enumerate(rows):
        y = 22 + (down + 0.5) * _HIGH
        parts.append(
            Markup('<text class="ticktext" x="0" y="{}">{}</text>').format(y + 4, row.name)
        )
        for i, cell in enumerate(row.cells):
            size = min(cell.chroma / _FULL, 1.0) ** 0.5 * (_HIGH / 2 - 1)
            if size > 0.5:
                parts.append(
                    Markup('<circle cx="{}" cy="{}" r="{:.1f}" fill="{}"/>').format(
                        _NAMES + (i + 0.5) * _WIDE, y, size, cell.colour.hex
                    )
                )
    width, height = _NAMES + len(LIGHTNESSES) * _WIDE, 26 + len(rows) * _HIGH
    return Markup(
        '<svg class="chart reach" viewBox="0 0 {} {}" role="img" aria-label="{}">{}</svg>'
    ).format(width, height, words, Markup("").join(parts))
