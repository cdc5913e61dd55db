"""What is known of one tube besides its colour: kind, permanence, handling, cautions."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.advice.handling import Trait, traits
from tubewise.advice.purpose import standing
from tubewise.advice.words.kind import kind_text
from tubewise.pigments.binders import binders
from tubewise.pigments.permanence import cautions
from tubewise.pigments.pigment import Caution
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """One tube: what it is, how it lasts and how it handles in its medium.

    `paint` is its grade and medium, `binder` says what that is; `pigments` stand as the label shows
    them; `lightfastness` is in that binder, `warning` what is known against them, then `beside`.
    """

    tube: str
    title: str
    paint: str
    pigments: tuple[str, ...]
    binder: str
    lightfastness: str
    warning: str
    beside: tuple[str, ...]
    handling: tuple[Trait, ...]
    cautions: tuple[Caution, ...]


def about(tube: Tube) -> About:
    """What is known of a tube."""
    stands = standing(tube.refs, tube.medium)
    return About(
        tube=tube.id,
        title=tube.title,
        paint=kind_text(tube),
        pigments=tube.pigments,
        binder=binders()[tube.medium].note if tube.medium in binders() else "",
        lightfastness=stands.category,
        warning=stands.line,
        beside=stands.beside,
        handling=traits(tube.refs, tube.medium),
        cautions=cautions(tube.refs),
    )
