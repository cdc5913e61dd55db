"""A sign for each verdict, so that colour is never the only one."""

from __future__ import annotations

SIGNS = {
    "right pigment": "✓",
    "stand-in": "≈",
    "check the form": "?",
    "mix it": "+",
    "wrong pigment behind the name": "✗",
    "missing": "–",
}

# A wrong tube whose colour the rest of the box can mix: the seat can paint all the same.
_MIXED_INSTEAD = "+"


def sign_of(verdict: str, *, can_mix: bool) -> str:
    """The sign of a verdict; a wrong tube's says too where the box can mix what is wanted."""
    wrong = verdict == "wrong pigment behind the name"
    return SIGNS[verdict] + (_MIXED_INSTEAD if wrong and can_mix else "")
