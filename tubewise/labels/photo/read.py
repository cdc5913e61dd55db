"""Read the tubes on a photograph."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import numpy as np

from tubewise.apart.process import Progress, run_apart
from tubewise.errors import UserError
from tubewise.labels.photo.candidates import codes_in
from tubewise.labels.photo.closer import MAY_MISS, around, closer_look, gaps
from tubewise.labels.photo.doubts import GARBLED, find_doubts, page_of, plain_corners
from tubewise.labels.photo.finding import find_lines
from tubewise.labels.photo.grouping import reading_order, tubes_of
from tubewise.labels.photo.letters import with_letters
from tubewise.labels.photo.lines import PrintedLine, Quad, Sign, direction, length_and_height
from tubewise.labels.photo.marking import SIDE
from tubewise.labels.photo.marking import marked as marked_picture
from tubewise.labels.photo.naming import likely_name
from tubewise.labels.photo.photo_reading import (
    PhotographedLine,
    PhotographedTube,
    PhotoReading,
    from_plain,
    to_plain,
)
from tubewise.labels.photo.signs import read_strips, strip_of
from tubewise.labels.photo.upright import upright
from tubewise.labels.reader import read
from tubewise.labels.reading import Span
from tubewise.limits import MOST_SECONDS
from tubewise.pictures.opening import Pixels, open_picture
from tubewise.pictures.saving import jpeg, make_folder

_LIKE_A_CODE: Final = re.compile(r"[PN][. ]?\w{0,2}[. :]?\d|\d{5}|igm", re.IGNORECASE)
LEAST_SCORE: Final = 0.35  # what is read with less is a scratch or a fold, not print
LEAST_LETTERS: Final = 6  # a tube says more than this; less is a mark on the table


def read_photographs(
    paths: Sequence[Path], *, marked: Path | None = None, progress: Progress | None = None
) -> list[PhotoReading]:
    """The readings of photographs, in order, made in a process of its own.

    With `marked`, a folder, each picture is written there as JPEG with its doubts drawn in.

    What is no picture, too large, or takes too long has a `fault`, and the others are read.
    Raises UserError only where the folder can't be made.
    """
    if marked is not None:
        make_folder(marked)
    try:
        return _read_apart(paths, marked, progress)
    except UserError as error:
        # The process itself came to its end, so the pictures are told apart by reading each alone.
        if len(paths) < 2:
            return [faulty(path, error) for path in paths]
    found: list[PhotoReading] = []
    for path in paths:
        found += read_photographs([path], marked=marked)
        if progress is not None:
            progress(len(found), len(paths))
    return found


def _read_apart(
    paths: Sequence[Path], marked: Path | None, progress: Progress | None
) -> list[PhotoReading]:
    plain = run_apart(
        "tubewise.labels.photo.read:task",
        {"paths": [str(path) for path in paths], "marked": str(marked) if marked else ""},
        seconds=MOST_SECONDS * max(1, len(paths)),
        progress=progress,
    )
    return [from_plain(found) for found in plain]


def faulty(path: Path, error: UserError) -> PhotoReading:
    """A photograph of which nothing could be read."""
    return PhotoReading(where=path.name, width=0, height=0, tubes=(), fault=error.message)


def marked_path(folder: Path, photograph: Path) -> Path:
    """Where the marked copy of a photograph is written."""
    return folder / f"{photograph.stem}-marked.jpg"


def task(question: dict[str, Any], progress: Progress) -> list[dict[str, Any]]:
    """What the process apart does: each picture of `paths` in turn."""
    paths = [Path(path) for path in question["paths"]]
    found = []
    for done, path in enumerate(paths):
        progress(done, len(paths))
        try:
            pixels = open_picture(path)
            reading = read_pixels(pixels, where=path.name)
        except UserError as error:  # one bad picture doesn't spoil the others
            found.append(to_plain(faulty(path, error)))
            continue
        if question["marked"]:
            drawn = jpeg(marked_picture(pixels, reading), most_side=SIDE)
            marked_path(Path(question["marked"]), path).write_bytes(drawn)
        found.append(to_plain(reading))
    progress(len(paths), len(paths))
    return found


def read_pixels(pixels: Pixels, *, where: str = "") -> PhotoReading:
    """The tubes on an upright picture: uint8 RGB of (height, width, 3)."""
    quads = find_lines(pixels)
    groups = tubes_of(quads, pixels)
    tubes = []
    for group in groups:
        found = _tube([quads[i] for i in group], pixels)
        if found is not None:
            tubes.append(found)
    high, wide = pixels.shape[:2]
    return PhotoReading(where=where, width=wide, height=high, tubes=tuple(tubes))


def _tube(quads: Sequence[Quad], pixels: Pixels) -> PhotographedTube | None:
    lines = _read_lines(upright(quads, pixels), pixels)
    if sum(sign.character.isalnum() for line in lines for sign in line.signs) < LEAST_LETTERS:
        return None
    way = _way(lines)
    if _misses_something(lines, way, pixels):
        more = closer_look([line.quad for line in lines], way, pixels)
        lines = [*lines, *_read_lines(more, pixels)]
    lines = [with_letters(line) for line in _second_looks(lines, pixels)]
    quads = [line.quad for line in lines]
    order = reading_order(quads, way)
    page, spans = page_of([[lines[i] for i in row] for row in order])
    at = likely_name(page.lines)
    name = page.lines[at].text.strip() if at is not None else ""
    reading = read(page.text, name=name)
    missed = [plain_corners(quad) for quad in gaps(quads, order, pixels)]
    return PhotographedTube(
        text=page.text,
        name=name,
        lines=tuple(
            PhotographedLine(
                span=span, corners=plain_corners(line.quad), score=round(line.score, 3)
            )
            for line, span in zip(page.lines, spans, strict=True)
        ),
        reading=reading,
        doubts=find_doubts(page, spans, reading, missed),
        corners=plain_corners(around(quads, way)),
        code_corners=tuple(page.corners(pigment.span) for pigment in reading.pigments),
    )


def _placed(line: PrintedLine, span: Span) -> PhotographedLine:
    corners = plain_corners(line.quad)
    return PhotographedLine(span=span, corners=corners, score=round(line.score, 3))


def _read_lines(quads: Sequence[Quad], pixels: Pixels) -> list[PrintedLine]:
    signs = read_strips([strip_of(pixels, quad) for quad in quads])
    return [
        PrintedLine(quad=quad, signs=found)
        for quad, found in zip(quads, signs, strict=True)
        if found and np.mean([sign.probability for sign in found]) >= LEAST_SCORE
    ]


def _misses_something(lines: Sequence[PrintedLine], way: Quad, pixels: Pixels) -> bool:
    """Whether a closer look is worth its time: no code found, or a gap that is not empty."""
    quads = [line.quad for line in lines]
    if not any(codes_in("Pigments: " + line.text) for line in lines):
        return True
    order = reading_order(quads, way)
    return bool(gaps(quads, order, pixels, MAY_MISS)) or any(line.score < GARBLED for line in lines)


def _way(lines: Sequence[PrintedLine]) -> Quad:
    """The direction of the text: that of the longest lines, weighted by length."""
    total = sum(length_and_height(line.quad)[0] * direction(line.quad) for line in lines)
    return np.asarray(total / max(float(np.linalg.norm(total)), 1e-9))


def _second_looks(lines: Sequence[PrintedLine], pixels: Pixels) -> list[PrintedLine]:
    """Lines that may hold codes are read once more, a little larger; the surer reading leads."""
    chosen = [i for i, line in enumerate(lines) if _LIKE_A_CODE.search(line.text)]
    strips = [strip_of(pixels, lines[i].quad, stretch=1.18, grow=0.1) for i in chosen]
    found = list(lines)
    for i, signs in zip(chosen, read_strips(strips), strict=True):
        second = PrintedLine(quad=lines[i].quad, signs=signs)
        first = lines[i]
        if _least(signs) > _least(first.signs):
            first, second = second, first
        found[i] = PrintedLine(quad=first.quad, signs=first.signs, second=second.text or "?")
    return found


def _least(signs: Sequence[Sign]) -> float:
    chances = [sign.probability for sign in signs if sign.character.isalnum()]
    return float(np.mean(np.log(np.maximum(chances, 1e-6)))) if chances else -20.0
