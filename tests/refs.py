"""Pigments and parts in few words, for the lists that tests write."""

from __future__ import annotations

from tubewise.pigments.ref import Ref


def refs(*texts: str) -> frozenset[Ref]:
    """The pigments of one way to fill a slot."""
    return frozenset(Ref(text) for text in texts)


def parts(*counted: tuple[str, int]) -> tuple[tuple[Ref, int], ...]:
    """The parts of a key mix."""
    return tuple((Ref(text), count) for text, count in counted)
