"""What was understood from a photograph of tubes, as plain results."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from tubewise.labels.reading import Reading, Span

Corners = tuple[tuple[float, float], ...]
DoubtKind = Literal["sign", "second look", "not a code", "list goes on", "unread print", "nothing"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Doubt:
    """Something on a tube that a person must settle.

    `span` holds half-open offsets into the tube's text, or None; `corners` are pixels of the
    picture; `candidates` are codes worth looking for, the likeliest first. None is ever applied.
    """

    kind: DoubtKind
    message: str
    span: Span | None
    corners: Corners
    candidates: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class PhotographedLine:
    """A line of print: its stretch of the tube's text, its corners in pixels, its score 0-1."""

    span: Span
    corners: Corners
    score: float


@dataclass(frozen=True, kw_only=True, slots=True)
class PhotographedTube:
    """One tube of a photograph: what it says line by line, the reading, and what is doubtful.

    `code_corners` are where the codes of the reading stand, in its order.
    `name` is the line that looks like the paint's name, "" without one: a guess to confirm.
    """

    text: str
    name: str
    lines: tuple[PhotographedLine, ...]
    reading: Reading
    doubts: tuple[Doubt, ...]
    corners: Corners
    code_corners: tuple[Corners, ...] = ()

    @property
    def settled(self) -> bool:
        """Whether nothing is left for a person to settle."""
        return not self.doubts


@dataclass(frozen=True, kw_only=True, slots=True)
class PhotoReading:
    """The tubes of one photograph; `width` and `height` are the upright picture's, in pixels.

    `fault` says why nothing could be read, "" where it could.
    """

    where: str
    width: int
    height: int
    tubes: tuple[PhotographedTube, ...]
    fault: str = ""


def to_plain(found: PhotoReading) -> dict[str, Any]:
    """The photograph's texts and doubts in JSON's kinds; readings follow from the texts."""
    return {
        "where": found.where,
        "width": found.width,
        "height": found.height,
        "fault": found.fault,
        "tubes": [
            {
                "text": tube.text,
                "name": tube.name,
                "corners": tube.corners,
                "code_corners": tube.code_corners,
                "lines": [
                    {"span": line.span, "corners": line.corners, "score": line.score}
                    for line in tube.lines
                ],
                "doubts": [
                    {
                        "kind": doubt.kind,
                        "message": doubt.message,
                        "span": doubt.span,
                        "corners": doubt.corners,
                        "candidates": doubt.candidates,
                    }
                    for doubt in tube.doubts
                ],
            }
            for tube in found.tubes
        ],
    }


def from_plain(plain: dict[str, Any]) -> PhotoReading:
    """The photograph that `to_plain` wrote down."""
    from tubewise.labels.reader import read

    return PhotoReading(
        where=plain["where"],
        width=plain["width"],
        height=plain["height"],
        fault=plain["fault"],
        tubes=tuple(
            PhotographedTube(
                text=tube["text"],
                name=tube["name"],
                lines=tuple(
                    PhotographedLine(
                        span=_span(line["span"]),
                        corners=_corners(line["corners"]),
                        score=line["score"],
                    )
                    for line in tube["lines"]
                ),
                reading=read(tube["text"], name=tube["name"]),
                doubts=tuple(
                    Doubt(
                        kind=doubt["kind"],
                        message=doubt["message"],
                        span=_span(doubt["span"]) if doubt["span"] else None,
                        corners=_corners(doubt["corners"]),
                        candidates=tuple(doubt["candidates"]),
                    )
                    for doubt in tube["doubts"]
                ),
                corners=_corners(tube["corners"]),
                code_corners=tuple(_corners(points) for points in tube["code_corners"]),
            )
            for tube in plain["tubes"]
        ),
    )


def _span(pair: list[int]) -> Span:
    return pair[0], pair[1]


def _corners(points: list[list[float]]) -> Corners:
    return tuple((float(x), float(y)) for x, y in points)
