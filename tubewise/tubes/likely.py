"""Which pigments a name without a code likely means: by the tubes of that name, by the register."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from tubewise.labels.phrasing import either
from tubewise.pigments.register import load
from tubewise.tubes.slug import slug
from tubewise.tubes.tube import Tube

_FEW = 3


@dataclass(frozen=True, slots=True)
class Likely:
    """What a name may hold: pigment sets with how many of `tubes` of that name hold each.

    Where no tube here has the name, `codes` are what the register says it promises.
    """

    counts: tuple[tuple[tuple[str, ...], int], ...] = ()
    tubes: int = 0
    codes: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """`mostly PB29 (14 of 15 tubes of that name here)`; "" where nothing is known."""
        if self.counts:
            first = " + ".join(self.counts[0][0])
            others = [" + ".join(refs) for refs, _ in self.counts[1:_FEW]]
            also = f", else {either(others)}" if others else ""
            tubes = "tube" if self.tubes == 1 else "tubes"
            return f"{first} in {self.counts[0][1]} of {self.tubes} {tubes} of that name here{also}"
        return f"mostly {either(self.codes[:_FEW])}" if self.codes else ""


@dataclass(frozen=True)
class NamedTubes:
    """A catalogue's tubes by their plain names."""

    catalogue: Iterable[Tube]
    _by_name: Mapping[str, list[Tube]] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        by_name: dict[str, list[Tube]] = defaultdict(list)
        for tube in self.catalogue:
            if tube.refs:
                by_name[slug(tube.name)].append(tube)
        object.__setattr__(self, "_by_name", by_name)

    def likely(self, name: str, medium: str = "") -> Likely:
        """What paints of a name hold, those of the medium where there are any."""
        named = self._by_name.get(slug(name), [])
        named = [tube for tube in named if tube.medium == medium] or named
        counts = Counter(tuple(sorted(tube.pigments)) for tube in named)
        if counts:
            return Likely(tuple(counts.most_common()), len(named))
        codes = dict.fromkeys(c for p in load().promises(name) for c in p.codes)
        return Likely(codes=tuple(codes))
