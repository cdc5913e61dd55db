"""Lines of print made by hand, as if they stood on a picture."""

from __future__ import annotations

import numpy as np

from tubewise.labels.photo.lines import PrintedLine, Sign


def line(
    text: str,
    *,
    y: float = 0.0,
    x: float = 0.0,
    doubts: dict[int, tuple[float, str]] | None = None,
    second: str = "",
    height: float = 30.0,
) -> PrintedLine:
    """A line of `text`; `doubts` gives for a sign its probability and what else it may be."""
    wide = 18.0 * len(text)
    quad = np.array([[x, y], [x + wide, y], [x + wide, y + height], [x, y + height]])
    signs = []
    for place, character in enumerate(text):
        chance, others = (doubts or {}).get(place, (0.999, ""))
        signs.append(
            Sign(
                character=character,
                probability=chance,
                others=tuple((other, (1 - chance) / max(1, len(others))) for other in others),
                place=(place + 0.5) / len(text),
            )
        )
    return PrintedLine(quad=quad, signs=tuple(signs), second=second)
