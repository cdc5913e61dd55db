"""What is known of one pigment, and which tubes bring it: the page a shop opens at the counter."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tubewise.advice.counter.kin import cheapest_first
from tubewise.advice.handling import Trait, traits
from tubewise.pigments.permanence import lightfastness
from tubewise.pigments.pigment import Pigment
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.terms import BINDERS
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class PigmentFacts:
    """One pigment: how it lasts in each binder, how it handles in a medium, who sells it.

    `suffixed` are its crystals and metals where the bare code leaves them open. `alone` are tubes
    of nothing else, `among` those where it is one of several, the cheapest by volume first.
    """

    pigment: Pigment
    medium: str
    permanence: tuple[tuple[str, str], ...]
    handling: tuple[Trait, ...]
    suffixed: tuple[Pigment, ...]
    alone: tuple[Tube, ...]
    among: tuple[Tube, ...]


def pigment_facts(pigment: Pigment, tubes: Iterable[Tube], medium: str = "") -> PigmentFacts:
    """The facts of a pigment; with a medium, tubes of that medium alone.

    Raises ValueError for a medium nobody knows.
    """
    ref = pigment.code
    codes = {ref, *(p.code for p in load().suffixed(ref))}
    bring = [
        tube
        for tube in tubes
        if (not medium or tube.medium == medium)
        and any(Ref(declared).code in codes for declared in tube.refs)
    ]
    alone = [tube for tube in bring if len(tube.refs) == 1]
    among = [tube for tube in bring if len(tube.refs) > 1]
    return PigmentFacts(
        pigment=pigment,
        medium=medium,
        permanence=tuple((binder, lightfastness((ref,), binder)) for binder in BINDERS),
        handling=traits((ref,), medium),
        suffixed=load().suffixed(ref),
        alone=tuple(cheapest_first(alone)),
        among=tuple(cheapest_first(among)),
    )
