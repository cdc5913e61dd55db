"""Names that mislead: one name on several pigments, one pigment under several names, hue paints."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from tubewise.tubes.tube import Tube

HUE_KINDS = frozenset({"hue-paint", "misleading-name"})


@dataclass(frozen=True, slots=True)
class Named:
    """A tube as a list shows it."""

    id: str
    title: str
    pigments: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SameName:
    """One name on tubes whose declared pigments differ."""

    name: str
    medium: str
    pigments: tuple[tuple[str, ...], ...]
    tubes: tuple[Named, ...]
    words: str


@dataclass(frozen=True, slots=True)
class SamePigments:
    """The same declared pigments under several names."""

    pigments: tuple[str, ...]
    medium: str
    names: tuple[str, ...]
    tubes: tuple[Named, ...]
    words: str


@dataclass(frozen=True, slots=True)
class HueName:
    """A name that promises a pigment the tube does not declare."""

    tube: Named
    kind: str
    words: str


@dataclass(frozen=True, slots=True)
class MisleadingNames:
    """The answer of `names` for one catalogue."""

    same_name: tuple[SameName, ...]
    same_pigments: tuple[SamePigments, ...]
    hue_names: tuple[HueName, ...]


def plain_name(name: str) -> str:
    """A name as it is compared: lower case, single spaces, no hyphens or dots."""
    return " ".join("".join(c if c.isalnum() else " " for c in name.casefold()).split())


def _named(tube: Tube) -> Named:
    return Named(tube.id, tube.title, tube.pigments)


def names(tubes: Iterable[Tube]) -> MisleadingNames:
    """Names that mislead among `tubes`, each medium for itself (oils do not mix with acrylics)."""
    by_name: dict[tuple[str, str], list[Tube]] = defaultdict(list)
    by_pigments: dict[tuple[tuple[str, ...], str], list[Tube]] = defaultdict(list)
    hue_names: list[HueName] = []
    for tube in tubes:
        by_name[plain_name(tube.name), tube.medium].append(tube)
        if tube.pigments:
            by_pigments[tuple(sorted(tube.pigments)), tube.medium].append(tube)
        hue_names += [
            HueName(_named(tube), warning.kind, warning.message)
            for warning in tube.reading.warnings
            if warning.kind in HUE_KINDS
        ]
    same_name = []
    for (_, medium), group in sorted(by_name.items()):
        sets = sorted({tuple(sorted(t.pigments)) for t in group})
        if len(sets) > 1:
            sets_shown = [", ".join(s) for s in sets if s]
            listed = "; ".join(sets_shown)
            kinds = (
                f"{len(sets_shown)} different paints: {listed}" if len(sets_shown) > 1 else listed
            )
            if () in sets:
                kinds += ", and one that declares nothing"
            same_name.append(
                SameName(
                    group[0].name,
                    medium,
                    tuple(sets),
                    tuple(map(_named, group)),
                    f"“{group[0].name}” is {kinds}",
                )
            )
    same_pigments = []
    for (refs, medium), group in sorted(by_pigments.items()):
        called = {plain_name(t.name): t.name for t in group}
        if len(called) > 1:
            listed = ", ".join(f"“{n}”" for n in sorted(called.values()))
            same_pigments.append(
                SamePigments(
                    refs,
                    medium,
                    tuple(sorted(called.values())),
                    tuple(map(_named, group)),
                    f"{', '.join(refs)} is sold as {listed}",
                )
            )
    return MisleadingNames(tuple(same_name), tuple(same_pigments), tuple(hue_names))
