"""Palettes: a lesson's tubes, the volume of a palette, the widest six of sixty, a large picture.

`python -m bench.palette [PART ...]` runs only the parts named: lesson, volume, six, painting. All
times are of warm, compiled code.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from bench.row import Row
from tubewise.advice.palette.lesson import lesson, lesson_offer
from tubewise.advice.palette.offer import Offer, offer_of
from tubewise.advice.palette.picture import picture
from tubewise.advice.recipes.wishes import PLAIN, Wishes
from tubewise.colour.arrays import Floats
from tubewise.demo.workshop import folder
from tubewise.paints.shelf import Shelf
from tubewise.search import widest as choosing
from tubewise.search.body import FINE, HALF, Body, Fineness, body, empty_skin
from tubewise.search.mixtures import labs_of_mixtures
from tubewise.search.paints import paints_of
from tubewise.search.prepared import prepare
from tubewise.search.problem import SearchProblem
from tubewise.tubes.catalogue import read_catalogue
from tubewise.tubes.supply import KeyMix, read_parts, read_supply_list
from tubewise.tubes.tube import Tube

MORE_MIXES = {
    "Dusk": "PV23 1 + PV19/gamma 1 + PW6 6",
    "Shade of heather": "PV19/gamma 2 + PB29 3",
    "Wet slate": "PB29 2 + PBr7/burnt-sienna 1 + PW6 2",
    "Bracken": "PBr7/burnt-sienna 2 + PY3 1",
    "Lichen": "PY3 2 + PG7 1 + PW6 12",
    "Sky at noon": "PB15:3 1 + PW6 16",
}
# The coarsest drawing that states an error below one per cent.
PER_CENT = Fineness(step=2.0, tolerance=1.5, longest=30.0, share=0.26)
# Plain sampling stops here, and the row says how far it was.
MOST_SAMPLES = 60_000_000


def acrylics() -> tuple[list[Tube], Shelf]:
    """The demo shop's 240 acrylics."""
    tubes = [t for t in read_catalogue(folder() / "catalogue.csv") if t.medium == "acrylic"]
    return tubes, Shelf(tubes)


def problem_of(offer: Offer, count: int) -> SearchProblem:
    """The search problem of the first `count` kinds of an offer."""
    from tubewise.advice.palette.film import film_for

    paints = [kind.paint for kind in offer.kinds[:count]]
    return film_for(offer.medium, Shelf()).problem(paints)


def lesson_rows() -> Iterator[Row]:
    """12 key mixes and 10 slots from 240 tubes."""
    tubes, shelf = acrylics()
    supply = read_supply_list(folder() / "supply.csv")
    more = tuple(KeyMix(name, read_parts(parts)) for name, parts in MORE_MIXES.items())
    whole = replace(supply, mixes=(*supply.mixes, *more))
    for words, wishes in (("single pigments", Wishes(single=True)), ("all of them", PLAIN)):
        offer = lesson_offer(whole, tubes, shelf, wishes=wishes)
        lesson(replace(whole, slots=whole.slots[:2], mixes=()), offer, shelf, tubes)
        start = time.perf_counter()
        answer = lesson(whole, offer, shelf, tubes)
        took = time.perf_counter() - start
        yield Row(
            f"fewest and then cheapest tubes for {len(whole.mixes)} key mixes and "
            f"{len(whole.slots)} slots from {len(tubes)}, {words}",
            took,
            None,
            "under 10 s, proved",
            f"{len(offer.kinds)} kinds of paint; {len(answer.tubes)} tubes for {answer.price:.2f}; "
            f"{'proved' if answer.proved else 'not proved'}; stand-ins and recipes included",
        )


def sampled_volume(
    ask: SearchProblem, truth: float, error: float, spread: float = 1.0
) -> tuple[float, int, float]:
    """Seconds and mixtures that plain sampling takes to come within `error` of a volume.

    Random mixtures of four, measured by strength and drawn into a grid: evenly over all shares
    for a `spread` of 1, nearer to corners and edges below (Dirichlet's distribution). Also the
    error that is left.
    """
    paints = paints_of(prepare(ask))
    n = len(paints.K)
    rng = np.random.default_rng(0)
    skin = empty_skin(HALF.step)
    low, high = skin.low.ravel(), skin.high.ravel()
    side = len(skin.low)
    start, done, left = time.perf_counter(), 0, 1.0
    while left > error and done < MOST_SAMPLES:
        rows = np.argsort(rng.random((500_000, n)), axis=1)[:, :4]
        shares = rng.dirichlet(np.full(4, spread), len(rows))
        lab = labs_of_mixtures(paints.K, paints.S, rows, shares, paints.W)
        at = np.rint((lab[:, 1:] + 128.0) / skin.step).astype(np.int64)
        cell = at[:, 0] * side + at[:, 1]
        np.minimum.at(low, cell, lab[:, 0])
        np.maximum.at(high, cell, lab[:, 0])
        done += len(rows)
        now = Body(low=skin.low, high=skin.high, step=skin.step).volume
        left = abs(now - truth) / truth
    return time.perf_counter() - start, done, left


def volume_rows() -> Iterator[Row]:
    """The volume of twelve tubes to one per cent."""
    tubes, shelf = acrylics()
    offer = offer_of(tubes, shelf, wishes=Wishes(single=True))
    every = problem_of(offer, len(offer.kinds))
    rows = choosing.widest(every, 12, seconds=2.0).rows
    ask = replace(every, K=every.K[list(rows)], S=every.S[list(rows)])
    finest = Fineness(step=0.25, tolerance=0.04, longest=4.0, share=0.07)
    truth = body(ask, range(12), fine=finest).volume
    start = time.perf_counter()
    found = body(ask, range(12), fine=PER_CENT)
    took = time.perf_counter() - start
    for words, spread in (("evenly over shares", 1.0), ("nearer to corners and edges", 0.5)):
        taken, samples, left = sampled_volume(ask, truth, 0.01, spread)
        yield Row(
            "volume of a palette of 12 to 1 %",
            took,
            taken,
            "at least 50 times faster than plain sampling",
            f"stated error {found.error:.2%}, {abs(found.volume - truth) / truth:.2%} off the "
            f"finest grid's; sampled {words}: {samples / 1e6:.1f} million mixtures to {left:.1%}",
        )
    for fine in (HALF, FINE):
        start = time.perf_counter()
        found = body(ask, range(12), fine=fine)
        yield Row(
            f"volume of a palette of 12, grid of {fine.step:g}",
            time.perf_counter() - start,
            None,
            "under 2 s, to 1 %",
            f"stated error {found.error:.2%}, {abs(found.volume - truth) / truth:.2%} off the "
            "finest grid's",
        )


def six_rows() -> Iterator[Row]:
    """The widest six of sixty, and how the way compares where all sets can be tried."""
    tubes, shelf = acrylics()
    offer = offer_of(tubes, shelf, wishes=Wishes(single=True))
    ask = problem_of(offer, 60)
    start = time.perf_counter()
    found = choosing.widest(ask, 6)
    took = time.perf_counter() - start
    shares = list(_against_all(ask))
    yield Row(
        f"widest 6 of {len(ask.K)}",
        took,
        None,
        "under 20 s; 98 % of the best 4 of 20",
        f"{found.sets} sets measured; the best 4 of 20 in {len(shares)} shops: at least "
        f"{min(shares):.1%} of the volume of the best of all",
    )


def _against_all(ask: SearchProblem, shops: int = 3) -> Iterator[float]:
    rng = np.random.default_rng(1)
    for _ in range(shops):
        rows = rng.choice(len(ask.K), 20, replace=False)
        few = replace(ask, K=ask.K[rows], S=ask.S[rows])
        best = choosing.widest(few, 4)
        tried, choosing.ALL_TRIED = choosing.ALL_TRIED, 0
        try:
            yield choosing.widest(few, 4).body.volume / best.body.volume
        finally:
            choosing.ALL_TRIED = tried


def scene(high: int = 3000, wide: int = 4000) -> Floats:
    """An invented landscape of 12 million pixels: sky, hills, heather, noise of the sensor."""
    y, x = np.mgrid[0:high, 0:wide] / np.array([high, wide])[:, None, None]
    hills = 0.45 + 0.1 * np.sin(7.0 * x) + 0.04 * np.sin(23.0 * x)
    sky = np.stack([0.55 + 0.35 * y, 0.7 + 0.2 * y, 0.9 + 0.05 * y], axis=-1)
    ground = np.stack([0.45 - 0.2 * y, 0.35 + 0.1 * np.sin(40 * x) ** 2, 0.4 * (1 - y)], axis=-1)
    shown = np.where((y < hills)[..., None], sky, ground)
    shown += np.random.default_rng(0).normal(0.0, 0.02, (high, wide, 1))
    return np.clip(shown, 0.0, 1.0)


def painting_rows() -> Iterator[Row]:
    """A picture of twelve million pixels to 24 targets and a palette."""
    tubes, shelf = acrylics()
    offer = offer_of(tubes, shelf, wishes=Wishes(single=True))
    pixels = (scene() * 255.0).astype(np.uint8)
    picture(pixels[:300:2, :300:2], offer, shelf, count=4)
    start = time.perf_counter()
    answer = picture(pixels, offer, shelf)
    yield Row(
        f"a picture of {pixels.shape[0] * pixels.shape[1] / 1e6:.0f} million pixels to "
        f"{len(answer.colours)} targets and a palette",
        time.perf_counter() - start,
        None,
        "under 15 s",
        f"{len(answer.tubes)} of {len(offer.kinds)} kinds, "
        f"{'' if answer.proved else 'not '}proved; {answer.within_reach:.0%} of it within "
        f"{answer.within:g}; opening the file is not included",
    )


PARTS = {
    "lesson": lesson_rows,
    "volume": volume_rows,
    "six": six_rows,
    "painting": painting_rows,
}


def rows(parts: Sequence[str] = ()) -> Iterator[Row]:
    """All rows, or those of the parts named."""
    for part in parts or tuple(PARTS):
        yield from PARTS[part]()


if __name__ == "__main__":
    for row in rows(sys.argv[1:]):
        print(" | ".join(row.cells), flush=True)
