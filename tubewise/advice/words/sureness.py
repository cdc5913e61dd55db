"""How sure an answer is, as every door says it."""

from __future__ import annotations

_SURE = {"high": "sure", "medium": "fairly sure", "low": "not sure"}


def sureness_text(confidence: str) -> str:
    """`sure`, `fairly sure` or `not sure` for a confidence high, medium or low."""
    return _SURE[confidence]
