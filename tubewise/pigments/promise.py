"""What a name on a tube promises."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Promise:
    """A phrase in a tube's name and the pigments it promises.

    `strength` is `pigment` when the plain name promises one of `codes`, or `name only` when the
    trade uses the name for other pigments too, so that nothing follows from it.
    `span` is where the phrase stands in the text.
    """

    promise: str
    codes: tuple[str, ...]
    strength: str
    source: str
    span: tuple[int, int] = (0, 0)
