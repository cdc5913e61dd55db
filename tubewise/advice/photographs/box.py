"""Photographs of a box to its file: one line a tube, to be confirmed line by line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from tubewise.advice.counter.label import read_label
from tubewise.advice.photographs.labels import PhotographAnswer, TubeSeen
from tubewise.advice.photographs.settling import (
    known_on,
    label_of,
    medium_of,
    print_of,
    question_of,
    settled_text,
    size_of,
)
from tubewise.errors import UserError
from tubewise.labels.photo.photo_reading import Doubt
from tubewise.pictures.opening import KINDS
from tubewise.tubes.catalogue import read_boxes, write_boxes
from tubewise.tubes.folded import folded
from tubewise.tubes.tube import Box, Tube

MOST_PHOTOGRAPHS: Final = 60
TO_SETTLE: Final = "to settle"
Ask = Callable[["BoxLine", Doubt], str]
"""Asks a person for the print at a doubt; "" leaves it open."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxLine:
    """One tube of a box: where it was seen, its text as read or settled, and the open doubts."""

    photograph: str
    place: int
    text: str
    name: str
    doubts: tuple[Doubt, ...]

    def tube(self, medium: str = "", known: Iterable[Tube] = ()) -> Tube:
        """The line as a tube; what is open stands in the column `to settle`.

        Maker and line are those of `known` tubes that the label names.
        """
        known = list(known)
        maker = known_on(self.text, {tube.maker for tube in known})
        lines = {tube.line for tube in known if maker and folded(tube.maker) == folded(maker)}
        extra = {
            "photograph": f"{self.photograph}, tube {self.place}",
            "print": print_of(self.text),
        }
        if self.doubts:
            extra[TO_SETTLE] = " ".join(question_of(doubt, self.text) for doubt in self.doubts)
        return Tube(
            maker=maker,
            line=known_on(self.text, lines),
            name=self.name,
            label=label_of(self.text, self.name),
            medium=medium or medium_of(self.text),
            size_ml=size_of(self.text),
            extra=extra,
        )


def photographs_in(folder: Path) -> list[Path]:
    """The pictures of a folder, by name. Raises UserError where there are none, or too many."""
    if not folder.is_dir():
        raise UserError("This folder is not there; check its name.", where=str(folder))
    found = sorted(path for path in folder.iterdir() if path.suffix.casefold() in KINDS)
    if not found:
        raise UserError(f"No pictures are here ({', '.join(KINDS)}).", where=str(folder))
    if len(found) > MOST_PHOTOGRAPHS:
        raise UserError(
            f"{len(found)} pictures are too many at once; {MOST_PHOTOGRAPHS} are read.",
            where=str(folder),
        )
    return found


def lines_of(photographs: Sequence[PhotographAnswer]) -> list[BoxLine]:
    """A line for each tube seen, in the order of the pictures."""
    return [
        _line(photograph.photograph, place, tube)
        for photograph in photographs
        for place, tube in enumerate(photograph.tubes, 1)
    ]


def _line(photograph: str, place: int, tube: TubeSeen) -> BoxLine:
    return BoxLine(
        photograph=photograph,
        place=place,
        text=tube.label.text,
        name=tube.label.name,
        doubts=tube.doubts,
    )


def settle(line: BoxLine, ask: Ask) -> BoxLine:
    """The line after a person was asked for each doubt; unanswered ones stay open."""
    answers = [(doubt, ask(line, doubt).strip()) for doubt in line.doubts]
    placed = [(doubt.span, answer) for doubt, answer in answers if answer and doubt.span]
    added = [answer for doubt, answer in answers if answer and not doubt.span]
    text = "\n".join([settled_text(line.text, placed).rstrip("\n"), *added])
    open_still = [doubt for doubt, answer in answers if not answer]
    # Spans of open doubts move with what was put in before them.
    answered = _warnings(line.text, line.name) - _warnings(text, line.name)
    moved = tuple(
        replace(doubt, span=_moved(doubt, placed))
        for doubt in open_still
        if doubt.message not in answered
    )
    return replace(line, text=text, doubts=moved)


def _warnings(text: str, name: str) -> set[str]:
    """What the label reader warns of; an answer elsewhere on the label may settle it too."""
    return {warning.message for warning in read_label(text, name).warnings}


def _moved(doubt: Doubt, placed: Iterable[tuple[tuple[int, int], str]]) -> tuple[int, int] | None:
    if doubt.span is None:
        return None
    by = sum(len(answer) - (end - start) for (start, end), answer in placed if end <= doubt.span[0])
    return doubt.span[0] + by, doubt.span[1] + by


def write_seat(path: Path, seat: str, lines: Sequence[BoxLine], medium: str = "") -> Box:
    """Write a seat's box into a file of boxes; other seats of the file stay as they are.

    Makers and lines that the file names already are known on the labels.
    """
    others = read_boxes(path) if path.exists() else []
    known = [tube for other in others for tube in other.tubes]
    box = Box(seat, tuple(line.tube(medium, known) for line in lines))
    kept = [other for other in others if folded(other.seat) != folded(seat)]
    write_boxes(path, [*kept, box])
    return box
