"""Measure what the recipe search costs and draw it: `python -m tools.pictures.search_cost`.

Prints the kernel's speed against what the processor does in a matrix product, and writes
docs/pictures/search-cost.svg: processor time of a proved search against the number of tubes.
Times differ from machine to machine, so this picture is not made by make_pictures.py.
"""

from __future__ import annotations

import time
from pathlib import Path
from statistics import median

import numpy as np

from bench.recipes import IN_REACH, OUT_OF_REACH, box, least, problem
from tools.pictures.drawing import Axes, picture, text
from tubewise.colour.lights import weights, white_xyz
from tubewise.search.mixtures import (
    FLOPS_EACH,
    FLOPS_FIXED,
    labs_of_mixtures,
)
from tubewise.search.recipes import search

SIZES = {2: (10, 20, 40, 80, 160, 320), 3: (10, 20, 40, 80, 160, 320), 4: (10, 20, 40, 80)}
COLOURS = {2: "#3b6ea5", 3: "#a5673b", 4: "#7a2f45"}


def kernel() -> None:
    """Print floating-point operations a mixture, achieved against the processor's."""
    m = 400_000
    K, S = box(60)
    rng = np.random.default_rng(0)
    W = np.ascontiguousarray((weights("D65") / white_xyz("D65")).T)
    rows, shares = rng.integers(0, 60, (m, 4)), rng.dirichlet(np.ones(4), m)
    labs_of_mixtures(K, S, rows[:10], shares[:10], W)
    took = least(lambda: labs_of_mixtures(K, S, rows, shares, W), 9)
    flops = FLOPS_FIXED + 4 * FLOPS_EACH
    square = rng.random((1200, 1200))
    product = least(lambda: square @ square, 9)
    ours, theirs = flops * m / took / 1e9, 2 * 1200**3 / product / 1e9
    print(
        f"{flops} operations and 36 roots and divisions a mixture of 4; {took / m * 1e9:.0f} ns; "
        f"{ours:.1f} Gflop/s against {theirs:.1f} in a matrix product: {ours / theirs:.0%}"
    )


def seconds(n: int, k: int, targets: tuple[list[float], ...]) -> float:
    """Median processor seconds of proved searches."""
    taken = []
    for target in targets:
        start = time.process_time()
        search(problem(n, target, max_paints=k, seconds=120.0))
        taken.append(time.process_time() - start)
    return median(taken)


def main() -> None:
    """Measure and draw."""
    kernel()
    search(problem(8, OUT_OF_REACH[0], max_paints=3))
    axes = Axes(62, 40, 470, 230, (0.95, 2.55), (0.01, 20.0), log_y=True)
    parts = [
        axes.frame((), (0.01, 0.1, 1, 10), "tubes in the box", "processor seconds, proved (median)")
    ]
    for n in (10, 20, 40, 80, 160, 320):
        at = float(axes.across(np.log10(n)))
        parts.append(text(at, axes.y + axes.height + 15, str(n), 10, "middle"))
    lowest: dict[int, float] = {}
    for k, sizes in SIZES.items():
        for words, targets, dashes in (
            ("in reach", IN_REACH, "5 4"),
            ("out of reach", OUT_OF_REACH, ""),
        ):
            taken = [seconds(n, k, targets) for n in sizes]
            print(k, words, dict(zip(sizes, (round(t, 3) for t in taken), strict=True)), flush=True)
            parts.append(axes.curve(np.log10(sizes), taken, COLOURS[k], dashes))
            # Labels at one column's end are kept a line apart, each above the one before it.
            up = min(float(axes.up(taken[-1])) + 4, lowest.get(sizes[-1], 1e9) - 11)
            lowest[sizes[-1]] = up
            across = float(axes.across(np.log10(sizes[-1])))
            if sizes[-1] == max(map(max, SIZES.values())):
                parts.append(text(across + 6, up, f"{k} paints, {words}", 10))
            else:
                parts.append(text(across - 8, up - 8, f"{k} paints, {words}", 10, "end"))
    title = "Processor time of a proved search against the number of tubes, for 2, 3 and 4 paints"
    drawn = picture(700, 320, title, parts)
    (Path(__file__).parents[2] / "docs" / "pictures" / "search-cost.svg").write_text(
        drawn, encoding="utf-8"
    )


if __name__ == "__main__":
    main()
