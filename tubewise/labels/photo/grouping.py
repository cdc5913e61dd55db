"""Which lines belong to one tube, and in which order they are read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from tubewise.labels.photo.lines import Quad, direction, length_and_height
from tubewise.pictures.opening import Pixels

NEAR: Final = 1.3  # line heights between lines that follow each other
FAR_ALONG: Final = 32.0  # line heights between two columns of one label
FAR_ACROSS: Final = 7.0
PARALLEL: Final = 0.26  # sine of the angle between lines of one label
SAME_PAPER: Final = 26.0  # levels of 255 between the paper of two lines, and along the way
ON_PAPER: Final = 0.72  # share of the way that must lie on paper: the rest is print and rules


def tubes_of(quads: Sequence[Quad], pixels: Pixels) -> list[list[int]]:
    """Groups of line numbers, one for each tube, from the top left of the picture on.

    Lines that follow each other closely belong together; so do distant ones with nothing but the
    label's paper between them.
    """
    papers = [_paper(pixels, quad) for quad in quads]
    owner = list(range(len(quads)))

    def root(i: int) -> int:
        while owner[i] != i:
            i = owner[i]
        return i

    for i in range(len(quads)):
        for j in range(i):
            if root(i) != root(j) and _together(i, j, quads, papers, pixels):
                owner[root(i)] = root(j)
    groups: dict[int, list[int]] = {}
    for i in range(len(quads)):
        groups.setdefault(root(i), []).append(i)
    found = list(groups.values())
    height = max((float(np.ptp(np.concatenate([quads[i] for i in g])[:, 1])) for g in found),
                 default=1.0)  # fmt: skip

    def place(group: Sequence[int]) -> tuple[int, float]:
        x, y = np.concatenate([quads[i] for i in group]).mean(axis=0)
        return int(y // max(height, 1.0)), float(x)

    return sorted(found, key=place)


def _paper(pixels: Pixels, quad: Quad) -> npt.NDArray[np.float64]:
    """The usual colour around the print of a line, levels 0-255."""
    edge = np.concatenate([np.linspace(quad[k], quad[(k + 1) % 4], 14) for k in range(4)])
    return np.median(_colours(pixels, edge), axis=0)


def _colours(pixels: Pixels, points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    high, wide = pixels.shape[:2]
    x = np.clip(points[:, 0].round().astype(int), 0, wide - 1)
    y = np.clip(points[:, 1].round().astype(int), 0, high - 1)
    found: npt.NDArray[np.float64] = pixels[y, x].astype(np.float64)
    return found


def _together(
    i: int,
    j: int,
    quads: Sequence[Quad],
    papers: Sequence[npt.NDArray[np.float64]],
    pixels: Pixels,
) -> bool:
    first, other = quads[i], quads[j]
    if length_and_height(first)[0] < length_and_height(other)[0]:
        first, other = other, first
    way = direction(first)
    across = np.array([-way[1], way[0]])
    long, high = length_and_height(other)
    if long > 2.5 * high and abs(float(direction(other) @ across)) > PARALLEL:
        return False
    apart_along = _gap(first @ way, other @ way)
    apart_across = _gap(first @ across, other @ across)
    height = max(length_and_height(first)[1], high)
    if apart_across <= NEAR * height and apart_along <= 0.5 * height:
        return True
    if apart_along > FAR_ALONG * height or apart_across > FAR_ACROSS * height:
        return False
    if float(np.abs(papers[i] - papers[j]).max()) > 3 * SAME_PAPER:
        return False
    return _on_paper(first, other, papers[i], papers[j], pixels)


def _gap(first: npt.NDArray[np.float64], other: npt.NDArray[np.float64]) -> float:
    return max(0.0, float(max(first.min() - other.max(), other.min() - first.max())))


def _on_paper(
    first: Quad,
    other: Quad,
    paper: npt.NDArray[np.float64],
    second: npt.NDArray[np.float64],
    pixels: Pixels,
) -> bool:
    """Whether the straight way between two lines crosses nothing but paper, print aside."""
    corners = [(a, b) for a in first for b in other]
    start, end = min(corners, key=lambda pair: float(np.linalg.norm(pair[0] - pair[1])))
    seen = _colours(pixels, np.linspace(start, end, 60))
    # Shading changes the level of paper slowly; its hue and its neighbourhood stay.
    expected = np.linspace(paper, second, 60)
    far = np.abs(seen - expected).max(axis=1) > SAME_PAPER
    return float(np.mean(~far)) >= ON_PAPER and _longest_run(far) <= 9


def _longest_run(far: npt.NDArray[np.bool_]) -> int:
    longest = run = 0
    for value in far.tolist():
        run = run + 1 if value else 0
        longest = max(longest, run)
    return longest


def reading_order(quads: Sequence[Quad], way: npt.NDArray[np.float64]) -> list[list[int]]:
    """Rows of line numbers, from the first on: columns one after the other, `way` to the right."""
    if not quads:
        return []
    across = np.array([-way[1], way[0]])
    spans = [
        (float((q @ way).min()), float((q @ way).max()), float((q @ across).mean())) for q in quads
    ]
    height = float(np.median([length_and_height(q)[1] for q in quads]))
    rows: list[list[int]] = []
    for column in _columns(list(range(len(quads))), spans, 1.5 * height):
        last = None
        for i in sorted(column, key=lambda k: spans[k][2]):
            own = length_and_height(quads[i])[1]
            if last is not None and abs(spans[i][2] - last) < 0.45 * own:
                rows[-1].append(i)
            else:
                rows.append([i])
                last = spans[i][2]
    return [sorted(row, key=lambda k: spans[k][0]) for row in rows]


def _columns(
    members: list[int], spans: Sequence[tuple[float, float, float]], least: float
) -> list[list[int]]:
    """Members parted where a strip of paper runs through between at least two lines a side."""
    order = sorted(members, key=lambda k: spans[k][0])
    reach = -np.inf
    for place, k in enumerate(order):
        if place >= 2 and len(order) - place >= 2 and spans[k][0] - reach > least:
            return [*_columns(order[:place], spans, least), *_columns(order[place:], spans, least)]
        reach = max(reach, spans[k][1])
    return [members]
