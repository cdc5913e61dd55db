"""The six verdicts on a slot of a supply list, and how a seat stands."""

from __future__ import annotations

from enum import StrEnum


class Verdict(StrEnum):
    """What a box has for a slot, best first."""

    RIGHT = "right pigment"
    STAND_IN = "stand-in"
    CHECK_FORM = "check the form"
    MIX = "mix it"
    WRONG = "wrong pigment behind the name"
    MISSING = "missing"


class Standing(StrEnum):
    """Whether a seat can paint the lesson; nearly ready where some things are to be checked."""

    READY = "ready"
    NEARLY = "nearly ready"
    NOT_READY = "not ready"


# The verdicts, best first.
VERDICTS = tuple(Verdict)
# With these the seat can paint the lesson as it stands.
READY = frozenset({Verdict.RIGHT, Verdict.STAND_IN, Verdict.MIX})
# With these a tube of the box fills the slot.
FILLED = frozenset({Verdict.RIGHT, Verdict.STAND_IN, Verdict.CHECK_FORM})
