"""Draw how wide intervals are and how often they hold: `-m tools.pictures.accuracy_picture`.

Writes docs/pictures/accuracy.svg from the checks of `tools.accuracy`, each measured pigment left
out in turn. It takes a minute, so make_pictures.py leaves it out.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from tools.accuracy.checks import ALONE, PAIR, PAIR_WHITE, TINT, Check, checks
from tools.accuracy.leave_out import left_out, measured_pigments
from tools.fit.facts import read_facts
from tools.pictures.drawing import FAINT, INK, Axes, line, number, picture, text

SHOWN = {
    ALONE: ("#2b2622", ""),
    TINT: ("#a5673b", "7 3"),
    PAIR: ("#3b6ea5", "2 3"),
    PAIR_WHITE: ("#7a2f45", "9 3 2 3"),
}
TOP = 16.0
LEVELS = np.linspace(0.05, 0.99, 48)


def scatter(found: Sequence[Check]) -> list[str]:
    """Misses against the radii that were stated, a dot a prediction."""
    axes = Axes(52, 46, 280, 280, (0.0, TOP), (0.0, TOP))
    ticks = (0, 5, 10, 15)
    parts = [
        axes.frame(ticks, ticks, "stated 95 % radius, CIEDE2000", "miss, CIEDE2000"),
        line(axes.x, axes.y + axes.height, axes.x + axes.width, axes.y, f'stroke="{INK}"'),
        text(axes.x + 8, axes.y + 22, "above the line", 10),
        text(axes.x + 8, axes.y + 34, "a truth lies outside", 10),
    ]
    for kind, (colour, _) in SHOWN.items():
        # Of the many mixtures every third, so that the picture stays small.
        part = [c for c in found if c.kind == kind]
        for check in part[:: 3 if kind == PAIR else 1]:
            x, y = axes.across(min(check.radius, TOP)), axes.up(min(check.miss, TOP))
            size = "1.2" if kind in (PAIR, PAIR_WHITE) else "2.4"
            parts.append(
                f'<circle cx="{number(float(x))}" cy="{number(float(y))}" r="{size}" '
                f'fill="{colour}" fill-opacity="0.55"/>'
            )
    return parts


def coverage(found: Sequence[Check]) -> list[str]:
    """How often intervals of every width hold the truth, against how often they say."""
    axes = Axes(410, 46, 280, 280, (0.0, 100.0), (0.0, 100.0))
    ticks = (0, 25, 50, 75, 95)
    parts = [
        axes.frame(ticks, ticks, "should hold, %", "holds, %"),
        axes.curve([0, 100], [0, 100], FAINT),
    ]
    for i, (kind, (colour, dashes)) in enumerate(SHOWN.items()):
        ranks = np.array([c.rank for c in found if c.kind == kind])
        holds = [100.0 * float(np.mean(ranks <= level)) for level in LEVELS]
        parts.append(axes.curve(100.0 * LEVELS, holds, colour, dashes))
        y = axes.y + 22 + 15 * i
        style = f'stroke="{colour}" stroke-width="1.8" stroke-dasharray="{dashes}"'
        parts.append(line(axes.x + 10, y - 4, axes.x + 36, y - 4, style))
        parts.append(text(axes.x + 42, y, kind, 10))
    return parts


def draw(found: Sequence[Check]) -> str:
    """The whole picture."""
    title = (
        "Left: how far predictions of pigments left out missed, against the radius they stated. "
        "Right: how often intervals held the truth, against how often they should"
    )
    return picture(740, 372, title, [*scatter(found), *coverage(found)])


def main() -> None:
    """Leave out, predict and draw."""
    facts = read_facts()
    found = list(checks(left_out(facts), measured_pigments(facts)))
    path = Path(__file__).parents[2] / "docs" / "pictures" / "accuracy.svg"
    path.write_text(draw(found), encoding="utf-8")
    print(f"{path.name}: {path.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
