"""Photographs of tubes as they answer a person: each tube's label, and what is to be settled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tubewise.advice.counter.label import LabelAnswer, read_label
from tubewise.apart.process import Progress
from tubewise.errors import UserError
from tubewise.labels.photo.photo_reading import Corners, Doubt, PhotographedTube, PhotoReading
from tubewise.labels.photo.read import read_photographs
from tubewise.pictures.extra import need_photos


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeSeen:
    """One tube on a photograph: its label as read, where it is, and the doubts about it."""

    label: LabelAnswer
    corners: Corners
    doubts: tuple[Doubt, ...]

    @property
    def settled(self) -> bool:
        """Whether nothing is left for a person to settle."""
        return not self.doubts


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotographAnswer:
    """The tubes of one photograph; corners are pixels of the upright picture of this size.

    `fault` says why nothing could be read, "" where it could.
    """

    photograph: str
    width: int
    height: int
    tubes: tuple[TubeSeen, ...]
    fault: str = ""


def read_label_photographs(
    paths: Sequence[Path], *, marked: Path | None = None, progress: Progress | None = None
) -> tuple[PhotographAnswer, ...]:
    """Read the tubes of photographs, in order.

    With `marked`, a folder, each picture is written there with its lines and doubts drawn in.
    A photograph among several that can't be read has a `fault`. Raises UserError where the extra
    is not installed, or none of the files can be read.
    """
    need_photos()
    found = tuple(map(answer_of, read_photographs(paths, marked=marked, progress=progress)))
    if found and all(photograph.fault for photograph in found):
        first, *others = found
        problems = [f"{other.photograph}: {other.fault}" for other in others]
        raise UserError(first.fault, where=first.photograph, problems=problems)
    return found


def answer_of(found: PhotoReading) -> PhotographAnswer:
    """A photograph's reading with what the register knows of its pigments."""
    return PhotographAnswer(
        photograph=found.where,
        width=found.width,
        height=found.height,
        tubes=tuple(map(_seen, found.tubes)),
        fault=found.fault,
    )


def _seen(tube: PhotographedTube) -> TubeSeen:
    return TubeSeen(
        label=read_label(tube.text, tube.name), corners=tube.corners, doubts=tube.doubts
    )
