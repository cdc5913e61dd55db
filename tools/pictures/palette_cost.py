"""Measure what palettes cost and draw it: `python -m tools.pictures.palette_cost`.

Writes docs/pictures/palette-cost.svg: seconds on this machine against the number of kinds of paint
to choose from, for the fewest tubes of the demo's lesson and for the widest six; and against the
tubes in a palette, for its volume. Times differ from machine to machine, so this picture is not
made by make_pictures.py.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from statistics import median

import numpy as np

from bench.palette import PER_CENT, acrylics
from tools.pictures.drawing import Axes, picture, text
from tools.pictures.munsell_targets import DOCS
from tubewise.advice.palette.film import film_for
from tubewise.advice.palette.lesson import lesson, lesson_offer
from tubewise.advice.palette.offer import Kind, Offer, offer_of
from tubewise.advice.recipes.wishes import PLAIN, Wishes
from tubewise.demo.workshop import folder
from tubewise.paints.shelf import Shelf
from tubewise.search.body import body
from tubewise.search.problem import SearchProblem
from tubewise.search.widest import widest
from tubewise.tubes.supply import read_supply_list

COLOURS = {"lesson": "#7a2f45", "widest six": "#a5673b", "volume": "#3b6ea5"}
WORDS = {
    "lesson": "fewest for a lesson, proved",
    "widest six": "widest six",
    "volume": "volume of so many tubes",
}
KINDS = (10, 20, 40, 80, 110)
TUBES = (3, 6, 12, 24, 48)


def fewer(offer: Offer, kept: tuple[Kind, ...], count: int, seed: int) -> Offer:
    """`count` kinds of an offer, those `kept` among them, in its own order."""
    rng = np.random.default_rng(seed)
    others = [kind for kind in offer.kinds if kind not in kept]
    chosen = [others[i] for i in rng.permutation(len(others))[: max(count - len(kept), 0)]]
    return replace(offer, kinds=tuple(kind for kind in offer.kinds if kind in (*kept, *chosen)))


def middle(works: Sequence[Callable[[], object]]) -> float:
    """The median of the seconds that they take."""
    taken = []
    for work in works:
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return median(taken)


def problem_of(offer: Offer, count: int, seed: int) -> SearchProblem:
    """The search problem of `count` kinds."""
    paints = [kind.paint for kind in fewer(offer, (), count, seed).kinds]
    return film_for("acrylic", Shelf()).problem(paints)


def measured() -> dict[str, dict[int, float]]:
    """Median seconds of each question, by the number of paints."""
    tubes, shelf = acrylics()
    supply = read_supply_list(folder() / "supply.csv")
    offer = lesson_offer(supply, tubes, shelf, wishes=PLAIN)
    whole = lesson(supply, offer, shelf, tubes)
    needed = {tube.tube.pigments for tube in whole.tubes}
    kept = tuple(kind for kind in offer.kinds if kind.pigments in needed)
    single = offer_of(tubes, shelf, wishes=Wishes(single=True))
    found: dict[str, dict[int, float]] = {"lesson": {}, "widest six": {}, "volume": {}}
    for n in KINDS:
        some = [fewer(offer, kept, n, seed) for seed in range(3)]
        found["lesson"][n] = middle([partial(lesson, supply, few, shelf, tubes) for few in some])
        if n <= len(single.kinds):
            asks = [problem_of(single, n, seed) for seed in range(3)]
            found["widest six"][n] = middle([partial(widest, ask, 6) for ask in asks])
    for n in TUBES:
        asks = [problem_of(single, n, seed) for seed in range(3)]
        found["volume"][n] = middle([partial(body, ask, range(n), fine=PER_CENT) for ask in asks])
    return found


def main() -> None:
    """Measure and draw."""
    axes = Axes(62, 40, 420, 230, (np.log10(3.0), np.log10(120.0)), (0.01, 20.0), log_y=True)
    parts = [axes.frame((), (0.01, 0.1, 1, 10), "kinds of paint", "seconds (median of three)")]
    for n in (3, 6, 12, 24, 48, 110):
        at = float(axes.across(np.log10(n)))
        parts.append(text(at, axes.y + axes.height + 15, str(n), 10, "middle"))
    for name, taken in measured().items():
        print(name, {n: round(t, 3) for n, t in taken.items()}, flush=True)
        times = list(taken.values())
        parts.append(axes.curve(np.log10(list(taken)), times, COLOURS[name]))
        across = float(axes.across(np.log10(list(taken)[-1])))
        parts.append(text(across + 6, float(axes.up(times[-1])) + 4, WORDS[name], 10))
    title = "Seconds for the fewest tubes of a lesson, the widest six, and the volume of a palette"
    drawn = picture(680, 320, title, parts)
    (DOCS / "pictures" / "palette-cost.svg").write_text(drawn, encoding="utf-8")


if __name__ == "__main__":
    main()
