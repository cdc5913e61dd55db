"""How sure an answer is, as every door says it."""

from __future__ import annotations

from tubewise.pigments.trust import Confidence

_SURE: dict[Confidence, str] = {"high": "sure", "medium": "fairly sure", "low": "not sure"}


def sureness_text(confidence: Confidence) -> str:
    """`sure`, `fairly sure` or `not sure` for a confidence high, medium or low."""
    return _SURE[confidence]
