"""The six verdicts on a slot of a supply list, best first."""

from __future__ import annotations

RIGHT = "right pigment"
STAND_IN = "stand-in"
CHECK_FORM = "check the form"
WRONG = "wrong pigment behind the name"
MIX = "mix it"
MISSING = "missing"

VERDICTS = (RIGHT, STAND_IN, CHECK_FORM, MIX, WRONG, MISSING)
# With these the seat can paint the lesson as it stands.
READY = frozenset({RIGHT, STAND_IN, MIX})
