"""What a teacher writes to one seat before class: one sentence, ready to be sent."""

from __future__ import annotations

from collections.abc import Sequence

from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.verdicts import Verdict
from tubewise.advice.words.pigments import pigments_text
from tubewise.labels.phrasing import either, listing
from tubewise.tubes.sets import is_set
from tubewise.tubes.tube import Tube

# So many paints are named with their pigments; of more, the shopping list tells.
_FEW = 3


def message(slots: Sequence[SlotVerdict]) -> str:
    """What the owner of a box should do before class, "" where nothing is left to do.

    The most pressing comes first: what to buy, what to look at, what to mix.
    """
    lacking = [slot for slot in slots if slot.lacking]
    if slots and len(lacking) == len(slots):
        return "bring or buy every paint of the list"
    mixing = [_mixed(slot) for slot in slots if slot.recipe is not None]
    in_sets = dict.fromkeys(slot.title for slot in slots if _in_a_set(slot))
    doubted = [
        slot for slot in slots if slot.to_check and slot.recipe is None and not _in_a_set(slot)
    ]
    unfit = [slot for slot in lacking if slot.unfit]
    wanted = [
        _wanted(slot) if len(lacking) <= _FEW else slot.slot for slot in lacking if not slot.unfit
    ]
    pieces = (
        ("buy ", wanted),
        ("ask me what to bring for ", [_unfit(slot) for slot in unfit]),
        ("bring more ", [slot.slot for slot in slots if slot.short]),
        ("tell me what lies in your ", list(in_sets)),
        ("look at ", [_doubted(slot) for slot in doubted]),
        ("mix ", mixing),
    )
    return "; ".join(verb + listing(things) for verb, things in pieces if things)


def _in_a_set(slot: SlotVerdict) -> bool:
    """Whether only a set, of which nobody knows what lies in it, may fill the slot."""
    return slot.verdict == Verdict.CHECK_FORM and is_set(Tube(name=slot.title))


def _wanted(slot: SlotVerdict) -> str:
    """`Permanent rose (PV19/gamma; yours is PR122)`, by what the shop sells or the list names."""
    codes = pigments_text(slot.buy.pigments) if slot.buy else slot.asks[0]
    yours = f"; yours is {slot.holds}" if slot.holds else ""
    return f"{slot.slot} ({codes}{yours})"


def _unfit(slot: SlotVerdict) -> str:
    """`Crimson (PR83 does not last)`: nothing that the list takes may be used."""
    return f"{slot.slot} ({either(slot.asks)} does not last)"


def _doubted(slot: SlotVerdict) -> str:
    """`Permanent rose (PV19/gamma?)`."""
    if slot.verdict != Verdict.CHECK_FORM:
        return slot.slot
    return f"{slot.slot} ({either(slot.asks)}?)"


def _mixed(slot: SlotVerdict) -> str:
    """`Cadmium red (not your tube)`, `Spring green (try it first)`."""
    if slot.verdict == Verdict.WRONG:
        return f"{slot.slot} (not your tube)"
    return f"{slot.slot} (try it first)" if slot.close_call else slot.slot
