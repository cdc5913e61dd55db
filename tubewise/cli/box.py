"""`tubewise box`: photographs of somebody's tubes to a line each in a file of boxes."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Json
from tubewise.cli.photograph import MarkedFolder, show_progress

if TYPE_CHECKING:
    from tubewise.advice.photographs.box import BoxLine
    from tubewise.labels.photo.photo_reading import Doubt


@dataclass(frozen=True, kw_only=True)
class BoxQuestion:
    """What `tubewise box` is asked."""

    photos: Annotated[Path, typer.Option(metavar="DIR", help="The folder of photographs.")]
    seat: Annotated[str, typer.Option(help="Whose box it is.")]
    out: Annotated[
        Path, typer.Option(metavar="FILE", help="The file of boxes (CSV or XLSX) to write into.")
    ]
    medium: Annotated[
        str, typer.Option(help="The medium of all tubes, where the labels don't say.")
    ] = ""
    ask: Annotated[
        bool | None,
        typer.Option(
            "--ask/--no-ask",
            help="Ask for each doubtful sign; without asking, doubts stand in the file.",
        ),
    ] = None
    marked: MarkedFolder = None
    as_json: Json = False


def box(question: BoxQuestion) -> None:
    """Read a box off photographs: one line a tube, doubts to be settled line by line."""
    from tubewise.advice.photographs.box import lines_of, photographs_in, settle, write_seat
    from tubewise.advice.photographs.labels import read_label_photographs
    from tubewise.advice.plain import to_json

    paths = photographs_in(question.photos)
    found = read_label_photographs(paths, marked=question.marked, progress=show_progress)
    lines = lines_of(found)
    asks = sys.stdin.isatty() and not question.as_json if question.ask is None else question.ask
    if asks:
        lines = [settle(line, _ask) for line in lines]
    kept = write_seat(question.out, question.seat, lines, question.medium)
    if question.as_json:
        print(to_json({"seat": kept.seat, "lines": lines, "photographs": found}))
        return
    for line, tube in zip(lines, kept.tubes, strict=True):
        codes = ", ".join(tube.pigments) or "no pigments read"
        print(f"{tube.name or 'no name found'}: {codes}  ({line.photograph}, tube {line.place})")
        if note := tube.extra.get("to settle"):
            print(f"  ? {note}")
    for photograph in found:
        if photograph.fault:
            print(f"! {photograph.photograph}: {photograph.fault}")
    open_lines = sum(bool(line.doubts) for line in lines)
    print(f"Seat {kept.seat}: {len(lines)} tubes in {question.out}; {open_lines} to settle.")


def _ask(line: BoxLine, doubt: Doubt) -> str:
    """What the person reads on the tube; Enter leaves it open."""
    print(f"{line.photograph}, tube {line.place}: {line.name or 'no name found'}", file=sys.stderr)
    print(f"  {doubt.message}", file=sys.stderr)
    options = f" [{' / '.join(doubt.candidates)}]" if doubt.candidates else ""
    answer: str = typer.prompt(
        f"  What does the tube say?{options}", default="", show_default=False, err=True
    )
    return answer
