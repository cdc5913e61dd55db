"""Daubs on a photograph as they answer a person: a colour, how sure, and how to use it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from tubewise.colour.grid import N_BANDS
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.measure.picture.chart import SOURCE
from tubewise.measure.picture.swatches import CARDS, Card, Daub, KnownPatch, read_swatches
from tubewise.paints.appearance import lab_alone
from tubewise.paints.shelf import Shelf
from tubewise.pictures.extra import need_photos
from tubewise.tubes.catalogue import write_catalogue
from tubewise.tubes.tube import Tube

WHITE_CARD: Final = 0.90  # reflectance of a white card where nothing else is known of it
GREY_CARD: Final = 0.18  # the usual photographer's grey
NO_CARD: Final = (
    "Nothing known is on the picture, so only the family of each hue is named. Take a chart, or a "
    "white and a grey card, into the picture to have colours."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pointed:
    """A place on a picture, in pixels, and what lies there."""

    what: str
    x: float
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DaubSeen:
    """A daub: its colour (D65/2°, mirror reflection `excluded`) within CIEDE2000 `delta_e_95`.

    `words` name the colour; without a card only the family of its hue. `target` is what `recipe`
    and `measure --swatch` take. `fault` says why there is no colour.
    """

    name: str
    x: float
    y: float
    colour: Colour | None
    words: str
    delta_e_95: float | None
    geometry: str
    target: str
    fault: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SwatchAnswer:
    """The daubs of a photograph; `residuals` are CIEDE2000 of what is known on it."""

    photograph: str
    card: Card
    card_source: str
    daubs: tuple[DaubSeen, ...]
    residuals: tuple[float, ...]
    notes: tuple[str, ...]


def card_named(text: str) -> Card:
    """The kind of card that a word means. Raises UserError with those that are known."""
    for card in CARDS:
        if text.strip().casefold() == card:
            return card
    raise UserError(f"“{text}” is no card we know; write one of {', '.join(CARDS)}.")


def read_daubs(
    path: Path,
    card: Card,
    *,
    known: Sequence[Pointed] = (),
    daubs: Sequence[Pointed] = (),
    shelf: Shelf | None = None,
    linear: bool = False,
) -> SwatchAnswer:
    """Colours of the daubs on a photograph.

    `known` are `white` and `grey` cards, or terms of paints on `shelf`; `daubs` have their names
    in `what`, and are found on the paper where none are given. `linear` says that the file holds
    linear light in 16 bits. Raises UserError.
    """
    need_photos()
    patches = [_patch(place, card, shelf or Shelf()) for place in known]
    points = [(daub.x, daub.y) for daub in daubs]
    found = read_swatches(path, card, known=patches, daubs=points, linear=linear)
    names = [daub.what for daub in daubs] or [f"daub {n}" for n in range(1, len(found.daubs) + 1)]
    seen = [_seen(name, daub) for name, daub in zip(names, found.daubs, strict=True)]
    return SwatchAnswer(
        photograph=found.where,
        card=card,
        card_source=SOURCE if card == "chart" else "",
        daubs=tuple(seen),
        residuals=found.residuals,
        notes=(*found.notes, *([NO_CARD] if card == "none" else [])),
    )


def _patch(place: Pointed, card: Card, shelf: Shelf) -> KnownPatch:
    levels = {"white": WHITE_CARD, "grey": GREY_CARD}
    if card == "white-grey":
        lab = lab_from_reflectance(np.full(N_BANDS, levels[place.what]))
    else:
        lab = lab_alone(shelf.term(place.what))[0]
    L, a, b = (float(v) for v in lab)
    return KnownPatch(x=place.x, y=place.y, lab=(L, a, b))


def _seen(name: str, daub: Daub) -> DaubSeen:
    colour = Colour.of(daub.lab) if daub.lab else None
    return DaubSeen(
        name=name,
        x=daub.x,
        y=daub.y,
        colour=colour,
        words=colour.name if colour else daub.hue,
        delta_e_95=daub.delta_e_95,
        geometry=daub.geometry,
        target="lab:" + ",".join(f"{v:g}" for v in daub.lab) if daub.lab else "",
        fault=daub.fault,
    )


def write_swatches(path: Path, answer: SwatchAnswer) -> int:
    """Write the daubs that have a colour as tubes with `swatch_lab`; how many there are."""
    tubes = [
        Tube(
            name=daub.name,
            swatch_lab=daub.colour.lab,
            swatch_geometry=daub.geometry,
            extra={"swatch_delta_e_95": f"{daub.delta_e_95:g}", "photograph": answer.photograph},
        )
        for daub in answer.daubs
        if daub.colour is not None
    ]
    write_catalogue(path, tubes)
    return len(tubes)
