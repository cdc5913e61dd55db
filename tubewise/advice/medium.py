"""Which medium a question is asked in, and which tubes that leaves out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from tubewise.advice.binder import common, mixes
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
    """Whether two media are one, or plainly mix by the binder table, or one of them is not said.

    Raises UserError for a medium nobody knows.
    """
    rule = mixes(medium, other)
    return rule.goes or rule.a == rule.b


def left_out_why(tube: Tube, medium: str) -> str:
    """Why a tube is not mixed from in a medium: `oil does not mix with acrylic`."""
    rule = mixes(tube.medium, medium)
    how = "mixes only with care with" if rule.verdict == "with care" else "does not mix with"
    return f"{rule.a} {how} {rule.b}"


def media_of(tubes: Iterable[Tube]) -> tuple[str, ...]:
    """The media that tubes name, each once, in alphabetical order."""
    return tuple(sorted({tube.medium for tube in tubes if tube.medium}))


def in_one_medium(tubes: Sequence[Tube], medium: str = "", wanted: str = "") -> OneMedium:
    """The tubes that one answer may mix.

    It is the `medium` asked for; else that of the `wanted` tube, where a tube here mixes with
    it; else the one that all tubes here mix in. Raises UserError where the tubes name several that
    do not mix and nothing decides, and for a medium nobody knows.
    """
    media = media_of(tubes)
    medium = medium and common([medium])
    if not medium and any(wanted and mixes_with(wanted, here) for here in media):
        medium = wanted
    if not medium:
        medium = _all_mix_in(media)
    return OneMedium(
        medium=medium,
        tubes=tuple(t for t in tubes if mixes_with(t.medium, medium)),
        others=tuple(t for t in tubes if not mixes_with(t.medium, medium)),
    )


def _all_mix_in(media: Sequence[str]) -> str:
    for a, b in combinations(media, 2):
        rule = mixes(a, b)
        if not rule.goes:
            how = "which mix only with care" if rule.verdict == "with care" else "which do not mix"
            raise UserError(
                f"these tubes are {listing(media)}, {how}; say which medium is meant "
                f"({either(media)}): {rule.why}"
            )
    return common(media)
