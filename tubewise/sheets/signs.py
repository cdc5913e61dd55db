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
