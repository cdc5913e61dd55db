"""Which way up the print of a tube stands: both ways are read, and the surer counts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from tubewise.labels.photo.lines import Quad, Sign, length_and_height, turned
from tubewise.labels.photo.signs import read_strips, strip_of
from tubewise.pictures.opening import Pixels

TRIED: Final = 3  # lines read both ways


def upright(quads: Sequence[Quad], pixels: Pixels) -> list[Quad]:
    """The lines of one tube with their corners in reading order."""
    aspects = [length_and_height(quad) for quad in quads]
    longest = sorted(range(len(quads)), key=lambda i: -aspects[i][0] / aspects[i][1])[:TRIED]
    strips = [strip_of(pixels, quads[i]) for i in longest]
    over = [strip_of(pixels, turned(quads[i])) for i in longest]
    read = read_strips([*strips, *over])
    if _sureness(read[: len(longest)]) >= _sureness(read[len(longest) :]):
        return list(quads)
    return [turned(quad) for quad in quads]


def _sureness(lines: Sequence[Sequence[Sign]]) -> float:
    signs = [sign.probability for line in lines for sign in line if sign.character != " "]
    # Print upside down reads as fewer and doubtful signs.
    return float(np.sum(np.square(signs))) if signs else 0.0
