"""How near daubs of rendered scenes come back, and whether what is stated holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from tools.photographs.swatch_scenes import CAMERAS, LIGHTS, Card, Scene, scene
from tubewise.advice.photographs.swatches import GREY_CARD, WHITE_CARD
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import N_BANDS
from tubewise.colour.lab import lab_from_reflectance
from tubewise.measure.picture.swatches import KnownPatch, colours_on
from tubewise.paints.appearance import lab_alone
from tubewise.paints.shelf import Shelf
from tubewise.pictures.opening import open_picture

HEAD = ("card", "what", "daubs", "median", "95 of 100 within", "stated on average", "stated holds")


def rows(seeds: range) -> Iterator[tuple[str, ...]]:
    """The head of the table, then all, each light and each camera, for each card."""
    yield HEAD
    yield tuple("---" for _ in HEAD)
    cards: tuple[Card, ...] = ("chart", "white-grey", "paints")
    for card in cards:
        found = [(made, missed) for made, missed in (_missed(seed, card) for seed in seeds)]
        yield (card, "all", *_figures([m for _, m in found]))
        for light in LIGHTS:
            yield (card, light, *_figures([m for made, m in found if made.light == light]))
        for camera in CAMERAS:
            yield (card, camera, *_figures([m for made, m in found if made.camera == camera]))


def known_cards(made: Scene) -> list[KnownPatch]:
    """The white and the grey card of a scene, as a person would point at them."""
    found = []
    for (x, y), level in ((made.white, WHITE_CARD), (made.grey, GREY_CARD)):
        L, a, b = (float(v) for v in lab_from_reflectance(np.full(N_BANDS, level)))
        found.append(KnownPatch(x=x, y=y, lab=(L, a, b)))
    return found


def known_paints(made: Scene) -> list[KnownPatch]:
    """The known paints of a scene, as the register has them."""
    found = []
    for code, x, y in made.known:
        L, a, b = (float(v) for v in lab_alone(Shelf().pigment(code))[0])
        found.append(KnownPatch(x=x, y=y, lab=(L, a, b)))
    return found


def _missed(seed: int, card: Card) -> tuple[Scene, np.ndarray]:
    """CIEDE2000 by which each daub is missed, and what was stated: shape (n, 2)."""
    made = scene(seed, card)
    known = known_cards(made) if card == "white-grey" else known_paints(made)
    found = colours_on(open_picture(made.data), card, known, made.daubs)
    pairs = [
        (float(delta_e_2000(np.array(daub.lab), truth)), daub.delta_e_95)
        for daub, truth in zip(found.daubs, made.lab, strict=True)
        if daub.lab is not None
    ]
    return made, np.array(pairs, dtype=np.float64).reshape(-1, 2)


def _figures(found: Sequence[np.ndarray]) -> tuple[str, ...]:
    pairs = np.concatenate([*found, np.zeros((0, 2))])
    if len(pairs) == 0:
        return "0", "", "", "", ""
    missed, stated = pairs.T
    return (
        str(len(pairs)),
        f"{np.median(missed):.2f}",
        f"{np.percentile(missed, 95):.1f}",
        f"{stated.mean():.1f}",
        f"{100 * np.mean(missed <= stated):.1f} %",
    )
