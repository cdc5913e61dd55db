"""Which medium a question is asked in, and which tubes that leaves out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tubewise.errors import UserError
from tubewise.labels.phrasing import either, listing
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class OneMedium:
    """The `medium` of an answer ("" where no tube says one), the `tubes` of it, the `others`."""

    medium: str
    tubes: tuple[Tube, ...]
    others: tuple[Tube, ...]


def mixes_with(medium: str, other: str) -> bool:
    """Whether two media may be mixed: the same, or one that nobody says."""
    return not medium or not other or medium.casefold() == other.casefold()


def media_of(tubes: Iterable[Tube]) -> tuple[str, ...]:
    """The media that tubes name, each once, in alphabetical order."""
    return tuple(sorted({tube.medium for tube in tubes if tube.medium}))


def in_one_medium(tubes: Sequence[Tube], asked: str = "", wanted: str = "") -> OneMedium:
    """The tubes that one answer may mix.

    The medium is the one `asked` for; else that of the `wanted` tube, where a tube here has it;
    else the only one there is. Raises UserError where the tubes name several and nothing decides.
    """
    media = media_of(tubes)
    medium = asked
    if not medium and any(wanted and mixes_with(wanted, here) for here in media):
        medium = wanted
    if not medium and len(media) > 1:
        raise UserError(
            f"these tubes are {listing(media)}, which do not mix; say which medium is meant "
            f"({either(media)})"
        )
    medium = medium or (media[0] if media else "")
    return OneMedium(
        medium=medium,
        tubes=tuple(t for t in tubes if mixes_with(t.medium, medium)),
        others=tuple(t for t in tubes if not mixes_with(t.medium, medium)),
    )
