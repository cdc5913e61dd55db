"""What optics rest on, and how sure they are: the words that every result uses."""

from __future__ import annotations

from typing import Final, Literal

Basis = Literal["measured", "measured (published)", "modelled"]
MEASURED: Final = "measured"
"""By the person's own measurement of the tube."""
PUBLISHED: Final = "measured (published)"
"""By a published measurement of a paint of this pigment."""
MODELLED: Final = "modelled"
"""By a model fitted to facts."""

Confidence = Literal["high", "medium", "low"]
CONFIDENCES: Final[tuple[Confidence, ...]] = ("high", "medium", "low")

_BASES: Final[tuple[Basis, ...]] = (MEASURED, PUBLISHED, MODELLED)


def basis_of(*bases: Basis) -> Basis:
    """What a mixture rests on: its least measured paint."""
    return max(bases, key=_BASES.index)


def least_sure(*levels: Confidence) -> Confidence:
    """The lowest of the given confidence levels."""
    return max(levels, key=CONFIDENCES.index)
