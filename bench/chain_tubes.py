"""Tubes of an invented chain: as many makers' paints of the same pigments as a chain sells.

Unlike the tubes of `bench.store`, whose swatches are drawn by chance to be looked up by name, these
have swatches that their pigments make, so that one can stand in for another.
"""

from __future__ import annotations

import random
from functools import cache

import numpy as np

from tubewise.paints.shelf import Shelf
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube

_MEDIA = ("acrylic", "oil", "watercolour", "gouache")
_FIRST = ("Ver", "Bral", "Kest", "Mor", "Tav", "Ing", "Osk", "Lum", "Dre", "Quil", "Harn", "Sel")
_LAST = ("dane", "wick", "ovar", "mere", "tolt", "inge", "asco", "bury", "enna", "holt")
_SIZES = {"acrylic": 75.0, "oil": 37.0, "watercolour": 14.0, "gouache": 20.0}
_MIXED_SHARE = 0.45
_SWATCH_SHARE = 0.35
_SOLD_OUT_SHARE = 0.12


@cache
def _shelf() -> Shelf:
    return Shelf()


@cache
def _masstone(refs: tuple[str, ...]) -> tuple[float, float, float]:
    shelf = _shelf()
    L, a, b = shelf.setting("acrylic").lab_alone(shelf.blend(refs))[0]
    return float(L), float(a), float(b)


def chain_tubes(count: int, seed: int = 20261126) -> list[Tube]:
    """So many tubes of four media, single pigments and mixtures; the same for the same seed."""
    rng = random.Random(seed)
    every = [str(ref) for ref in load().refs]
    common = rng.sample(every, 60)
    makers = [first + last for first in _FIRST for last in _LAST]
    rng.shuffle(makers)
    found: dict[str, Tube] = {}
    number = 0
    while len(found) < count:
        number += 1
        refs = rng.sample(common if rng.random() < 0.8 else every, _how_many(rng))
        medium = rng.choice(_MEDIA)
        swatch = None
        if medium != "watercolour" and rng.random() < _SWATCH_SHARE:
            lab = np.asarray(_masstone(tuple(refs)))
            swatch = tuple(round(float(v) + rng.gauss(0.0, 1.2), 1) for v in lab)
        tube = Tube(
            maker=makers[rng.randrange(min(len(makers), 12 + count // 250))],
            line=rng.choice(("Fen", "Tarn", "Loam")),
            grade=rng.choice(("artist", "artist", "student")),
            medium=medium,
            name=f"Colour {number}",
            label=", ".join(ref.replace("/", " ") for ref in refs),
            size_ml=_SIZES[medium],
            price=round(rng.uniform(3, 30), 2),
            currency="EUR",
            stock=0 if rng.random() < _SOLD_OUT_SHARE else rng.randint(1, 30),
            swatch_lab=swatch,  # type: ignore[arg-type]
        )
        found.setdefault(tube.id, tube)
    return list(found.values())


def _how_many(rng: random.Random) -> int:
    return rng.choice((2, 2, 3)) if rng.random() < _MIXED_SHARE else 1
