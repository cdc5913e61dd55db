"""Find a 24-patch colour chart on a picture, and what its patches are.

`colour-checker-detection` would find it too, but brings OpenImageIO and a second OpenCV with
windows; the squares of a chart and their order are soon found with the OpenCV that is here.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any, Final

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lab_from_xyz
from tubewise.colour.xyz import xyz_from_reflectance
from tubewise.errors import UserError
from tubewise.measure.picture.patches import patch_at
from tubewise.pictures.opening import Pixels

COLUMNS: Final = 6
ROWS: Final = 4
SOURCE: Final = "BabelColor Average, 30 charts, as colour-science gives it"
LOOK_SIDE: Final = 1400  # pixels of the longer side when looking for squares
LEAST_SQUARES: Final = 9
WORST_FIT: Final = 14.0  # CIEDE2000 of patches after a rough correction: more is no such chart


@cache
def reference_spectra() -> Floats:
    """Reflectances of the chart's patches, shape (24, 36), rows from the brown patch on."""
    import colour

    chart = colour.SDS_COLOURCHECKERS["BabelColor Average"]
    found: Floats = np.array([chart[name].values for name in chart])
    found.flags.writeable = False
    return found


def reference_xyz() -> Floats:
    """XYZ of the patches under D65 for the 2-degree observer, shape (24, 3), white Y = 100."""
    return xyz_from_reflectance(reference_spectra())


def find_chart(pixels: Pixels) -> tuple[Floats, float]:
    """The middles of the 24 patches, shape (24, 2) in pixels, and the radius that lies inside each.

    Raises UserError where no chart is found.
    """
    import cv2

    scale = min(1.0, LOOK_SIDE / max(pixels.shape[:2]))
    resized = cv2.resize(pixels, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    small = np.asarray(resized, dtype=np.uint8)
    best: tuple[float, Floats, float] | None = None
    for squares in _families(_squares(small)):
        for centres, side in _grids(squares):
            if centres.min() < 0 or (centres > (small.shape[1], small.shape[0])).any():
                continue
            fit = _misfit(small, centres, side)
            if best is None or fit < best[0]:
                best = (fit, centres, side)
    if best is None or best[0] > WORST_FIT:
        raise UserError(
            "No chart of 24 patches was found. Take the whole chart, flat and near, or use "
            "--card white-grey."
        )
    return best[1] / scale, 0.28 * best[2] / scale


def _squares(small: Pixels) -> list[tuple[Floats, float]]:
    """Middles and sides of what looks like a square patch."""
    import cv2

    found: list[tuple[Floats, float]] = []
    for channel in (*cv2.split(small), cv2.cvtColor(small, cv2.COLOR_RGB2GRAY)):
        smooth = cv2.bilateralFilter(channel, 7, 30, 5)
        edges = cv2.dilate(cv2.Canny(smooth, 12, 40), np.ones((3, 3), np.uint8))
        outlines, _ = cv2.findContours(
            cv2.bitwise_not(edges), cv2.RETR_LIST, cv2.CHAIN_APPROX_SIMPLE
        )
        for outline in outlines:
            area = cv2.contourArea(outline)
            if not 150 < area < small.shape[0] * small.shape[1] / 30:
                continue
            (x, y), (a, b), _ = cv2.minAreaRect(outline)
            if min(a, b) < 0.6 * max(a, b) or area < 0.8 * a * b:
                continue
            middle = np.array([x, y])
            side = float(np.sqrt(a * b))
            if not any(np.linalg.norm(middle - m) < 0.4 * side for m, _ in found):
                found.append((middle, side))
    return found


def _families(squares: list[tuple[Floats, float]]) -> Iterator[list[tuple[Floats, float]]]:
    """Squares of about one size, the largest family first."""
    families = []
    for _, side in squares:
        members = [s for s in squares if 0.75 * side < s[1] < 1.33 * side]
        if len(members) >= LEAST_SQUARES:
            families.append(members)
    families.sort(key=len, reverse=True)
    yield from families[:: max(1, len(families) // 6)][:6]


def _grids(squares: list[tuple[Floats, float]]) -> Iterator[tuple[Floats, float]]:
    """Every way in which squares of one size can be 6 by 4 patches: (24, 2) middles and a side."""
    import cv2

    middles = np.array([m for m, _ in squares])
    side = float(np.median([s for _, s in squares]))
    steps = [
        q - p for p in middles for q in middles if 0.9 * side < np.linalg.norm(q - p) < 1.7 * side
    ]
    if not steps:
        return
    first = _usual_step(np.array(steps))
    second = _usual_step(np.array(steps), across=first)
    placed = _coordinates(middles, first, second)
    if len(placed) < LEAST_SQUARES:
        return
    cells = np.array(list(placed.values()), dtype=np.float64)
    where = middles[list(placed)]
    warp, _ = cv2.findHomography(cells, where, cv2.RANSAC, 0.25 * side)
    if warp is None:
        return
    low, top = cells.min(axis=0), cells.max(axis=0)
    for turned in (False, True):
        size = (ROWS, COLUMNS) if turned else (COLUMNS, ROWS)
        if (top - low + 1 > np.array(size) + 0.1).any():
            continue
        for dx in range(int(top[0]) - size[0] + 1, int(low[0]) + 1):
            for dy in range(int(top[1]) - size[1] + 1, int(low[1]) + 1):
                yield from _numbered(warp, dx, dy, turned, side)


def _numbered(
    warp: Any, dx: int, dy: int, turned: bool, side: float
) -> Iterator[tuple[Floats, float]]:
    import cv2

    rows, columns = np.mgrid[:ROWS, :COLUMNS]
    row, column = rows.ravel(), columns.ravel()
    for flip in (False, True):
        r = ROWS - 1 - row if flip else row
        c = COLUMNS - 1 - column if flip else column
        u, v = (ROWS - 1 - r, c) if turned else (c, r)
        cells = np.column_stack([u + dx, v + dy]).astype(np.float64)
        yield cv2.perspectiveTransform(cells[None], warp)[0], side


def _usual_step(steps: Floats, across: Floats | None = None) -> Floats:
    """The most frequent step between neighbours, or the one about square to `across`."""
    chosen = steps
    if across is not None:
        unit = across / np.linalg.norm(across)
        lengths = np.linalg.norm(steps, axis=1)
        chosen = steps[np.abs(steps @ unit) < 0.5 * lengths]
        if len(chosen) == 0:
            return np.array([-across[1], across[0]])
    near = np.linalg.norm(chosen[:, None] - chosen[None], axis=2)
    reach = 0.15 * np.linalg.norm(chosen, axis=1).mean()
    best = int((near < reach).sum(axis=1).argmax())
    found: Floats = chosen[near[best] < reach].mean(axis=0)
    if across is None:
        return found
    cross = across[0] * found[1] - across[1] * found[0]
    return found if cross > 0 else -found


def _coordinates(middles: Floats, first: Floats, second: Floats) -> dict[int, tuple[int, int]]:
    """Whole-number places of the squares, walked from neighbour to neighbour."""
    best: dict[int, tuple[int, int]] = {}
    reach = 0.3 * min(np.linalg.norm(first), np.linalg.norm(second))
    moves = (((1, 0), first), ((-1, 0), -first), ((0, 1), second), ((0, -1), -second))
    for seed in range(len(middles)):
        if seed in best:
            continue
        placed = {seed: (0, 0)}
        waiting = [seed]
        while waiting:
            at = waiting.pop()
            for (du, dv), step in moves:
                gaps = np.linalg.norm(middles - middles[at] - step, axis=1)
                near = int(gaps.argmin())
                if gaps[near] < reach and near not in placed:
                    placed[near] = (placed[at][0] + du, placed[at][1] + dv)
                    waiting.append(near)
        if len(placed) > len(best):
            best = placed
    return best


def _misfit(small: Pixels, centres: Floats, side: float) -> float:
    """CIEDE2000, mean, of the patches after a rough linear correction: which way up it lies."""
    seen = np.array([patch_at(small, x, y, 0.22 * side).linear for x, y in centres])
    wanted = reference_xyz() / 100
    design = np.column_stack([seen, 0.02 * np.ones(len(seen))])
    matrix, *_ = np.linalg.lstsq(design, wanted, rcond=None)
    got = lab_from_xyz(100 * np.maximum(design @ matrix, 1e-5))
    return float(np.mean(delta_e_2000(got, lab_from_reflectance(reference_spectra()))))
