"""Names that promise what a slot asks for, whether the tube keeps the promise or not."""

from __future__ import annotations

from collections.abc import Sequence

from tubewise.advice.alike.identity import SAME, accepted, contents_of_tube
from tubewise.advice.alike.names import HUE_KINDS, plain_name
from tubewise.advice.classroom.standard import Standard
from tubewise.pigments.register import load
from tubewise.tubes.sets import is_set
from tubewise.tubes.supply import Slot
from tubewise.tubes.tube import Tube


def names_by_slot(
    standards: Sequence[Standard], catalogue: Sequence[Tube]
) -> dict[Slot, frozenset[str]]:
    """For each slot, the plain names under which what it asks for is sold."""
    return {
        standard.slot: frozenset(
            (
                plain_name(standard.slot.slot),
                *(plain_name(tube.name) for tube in catalogue if _teaches(tube, standard)),
            )
        )
        for standard in standards
    }


def _teaches(tube: Tube, standard: Standard) -> bool:
    """Whether a tube's name is one for what the slot asks.

    A label that contradicts its own name teaches no names.
    """
    contents = contents_of_tube(tube)
    if not contents or any(w.kind in ("hue-disagrees", *HUE_KINDS) for w in tube.reading.warnings):
        return False
    return any(accepted(sorted(refs), contents) == SAME for refs in standard.slot.accept)


def promises(tube: Tube, standard: Standard, names: frozenset[str]) -> bool:
    """Whether the tube's name lets a person take it for what the slot asks.

    Of a set nobody knows what lies in it, so that it may.
    """
    if is_set(tube):
        return True
    if plain_name(tube.name) in names:
        return True
    codes = {content.code for content in contents_of_tube(tube)}
    # Another shade or form of the promised pigment keeps its promise.
    return any(
        standard.single_codes & set(promise.codes) and not codes & set(promise.codes)
        for promise in load().promises(tube.name)
        # Under a name that the trade uses freely nobody is misled.
        if promise.strength == "pigment"
    )
