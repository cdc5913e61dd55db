"""When and where a workshop is held, and what it is called: lines above a supply list's header."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass

from tubewise.tables.cells import Cell, text_of
from tubewise.tables.grid import Row
from tubewise.tables.headers import heading

LONGEST = 200

_NAMES = {
    word: key
    for key, words in {
        "title": "title|workshop|course|titel|kurs|titre|atelier|stage|titulo|taller|titolo|corso",
        "date": "date|dates|when|datum|wann|quand|fecha|cuando|data|quando",
        "place": "place|where|venue|room|ort|wo|lieu|ou|lugar|donde|luogo|dove",
    }.items()
    for word in words.split("|")
}


@dataclass(frozen=True, slots=True)
class Occasion:
    """What a workshop is called, when it is held and where, in its teacher's own words.

    Each may be "".
    """

    title: str = ""
    date: str = ""
    place: str = ""

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """What is known, as (`title`, its text) and so on: as it stands above a list's header."""
        return tuple((key, text) for key, text in asdict(self).items() if text)


NO_OCCASION = Occasion()


def occasion(title: str = "", date: str = "", place: str = "") -> Occasion:
    """An occasion of what somebody typed: single spaces, at most 200 characters each."""
    return Occasion(*(" ".join(text.split())[:LONGEST] for text in (title, date, place)))


def occasion_above(rows: Iterable[Row]) -> Occasion:
    """What the rows above a header say: `title, Heath in June` or `Place: Village hall`.

    The first of two lines counts; other rows are nothing to us.
    """
    found: dict[str, str] = {}
    for row in rows:
        key, text = _key_and_text([text_of(cell) for cell in row.cells])
        if key and text:
            found.setdefault(key, text)
    return occasion(**found)


def _key_and_text(cells: Sequence[str]) -> tuple[str, str]:
    filled = [cell.strip() for cell in cells if cell.strip()]
    if not filled:
        return "", ""
    first, colon, rest = filled[0].partition(":")
    text = rest.strip() if colon and rest.strip() else " ".join(filled[1:2])
    return _NAMES.get(heading(first), ""), text


def with_occasion(
    above: Occasion, header: Sequence[str], rows: Sequence[Sequence[Cell]]
) -> tuple[Sequence[str], list[Sequence[Cell]]]:
    """A table to write, (first row, the others), with its occasion above the header."""
    whole: list[Sequence[Cell]] = [*above.lines, list(header), *rows]
    return [text_of(cell) for cell in whole[0]], whole[1:]
