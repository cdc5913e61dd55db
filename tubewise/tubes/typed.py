"""What a person types into a form, a thing a line: slots, key mixes, the tubes of a box."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from tubewise.errors import UserError
from tubewise.tubes.cell_of_tubes import tube_of_words
from tubewise.tubes.supply import KeyMix, Slot, read_accept, read_mixture
from tubewise.tubes.tube import Box, Tube


def typed_slots(text: str, medium: str = "") -> tuple[Slot, ...]:
    """Slots, one a line: `Rose: PV19/gamma | PR122`. Raises UserError with the line."""
    slots = []
    for number, line in _lines(text):
        name, accept = _name_and_rest(number, line, "its pigments, such as PV19/gamma | PR122")
        try:
            slots.append(Slot(name, read_accept(accept), medium))
        except ValueError as error:
            raise UserError(f"{error}.", where=f"slots, line {number}") from None
    return tuple(slots)


def typed_mixes(text: str) -> tuple[KeyMix, ...]:
    """Key mixes, one a line: `Heather: PV19/gamma 1 + PW6 4`. Raises UserError with the line."""
    mixes = []
    for number, line in _lines(text):
        name, parts = _name_and_rest(number, line, "its parts, such as PV19/gamma 1 + PW6 4")
        try:
            paints, water = read_mixture(parts)
            mixes.append(KeyMix(name, paints, water=water))
        except ValueError as error:
            raise UserError(f"{error}.", where=f"mixes, line {number}") from None
    return tuple(mixes)


@dataclass(frozen=True)
class TypedTubes:
    """Reads typed tubes; a line that names a catalogue's tube in full means that tube."""

    catalogue: Iterable[Tube]
    _by_id: dict[str, Tube] = field(init=False)
    _by_title: dict[str, Tube] = field(init=False)

    def __post_init__(self) -> None:
        tubes = tuple(self.catalogue)
        object.__setattr__(self, "_by_id", {tube.id: tube for tube in tubes})
        object.__setattr__(self, "_by_title", {tube.title.casefold(): tube for tube in tubes})

    def tube(self, line: str) -> Tube:
        """A tube out of `name | label`, or of the words and codes as they stand on it."""
        words = _single_spaced(line)
        if words in self._by_id:
            return self._by_id[words]
        name, bar, label = (part.strip() for part in words.partition("|"))
        known = self._by_title.get(name.casefold())
        if known is not None and (not label or _single_spaced(known.label) == label):
            return known
        if bar:
            return Tube(name=name, label=label)
        return tube_of_words(words)

    def box(self, seat: str, text: str, before: Box | None = None) -> Box:
        """A seat's box, a tube a line, each once; a line left as `before` keeps that very tube."""
        known = {as_typed(tube): tube for tube in (before.tubes if before else ())}
        tubes = [known.get(line) or self.tube(line) for _, line in _lines(text)]
        return Box(seat, tuple({tube.id: tube for tube in tubes}.values()))


def as_typed(tube: Tube) -> str:
    """A tube as the line that means it: `title | label`."""
    return _single_spaced(f"{tube.title} | {tube.label}")


def count_lines(text: str) -> int:
    """How many lines say anything."""
    return len(_lines(text))


def _lines(text: str) -> list[tuple[int, str]]:
    return [(n, line.strip()) for n, line in enumerate(text.splitlines(), 1) if line.strip()]


def _single_spaced(text: str) -> str:
    return " ".join(text.split())


def _name_and_rest(number: int, line: str, what: str) -> tuple[str, str]:
    # A colon may stand in a code (PB15:3), never before the first blank after a name.
    name, colon, rest = line.partition(":")
    if not colon or not name.strip() or not rest.strip():
        raise UserError(f"Write a name, a colon and {what}.", where=f"line {number}")
    return name.strip(), rest.strip()
