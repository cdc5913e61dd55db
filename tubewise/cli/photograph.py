"""Photographs on the command line: `label --photo`, with progress and a marked copy."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.label_words import print_label

if TYPE_CHECKING:
    from tubewise.advice.photographs.labels import PhotographAnswer, TubeSeen

Photos = Annotated[
    list[Path] | None,
    typer.Option(
        "--photo",
        metavar="FILE",
        help="A photograph of one tube or several instead of TEXT; may be given again.",
    ),
]
MarkedFolder = Annotated[
    Path | None,
    typer.Option(
        "--marked",
        metavar="DIR",
        help="Write each photograph there with what was read and what is doubtful drawn in.",
    ),
]


def label_photographs(paths: Sequence[Path], marked: Path | None, as_json: bool) -> None:
    """Read tubes on photographs and print them as `label` does, with what is to be settled."""
    from tubewise.advice.photographs.labels import read_label_photographs
    from tubewise.advice.plain import to_json

    found = read_label_photographs(paths, marked=marked, progress=show_progress)
    if as_json:
        print(to_json({"photographs": found}))
        return
    for photograph in found:
        _print(photograph)
    if marked is not None:
        print(f"The marked pictures are in {marked}.")


def show_progress(done: int, of: int) -> None:
    """How many pictures are read, on one line of a terminal; nothing in a pipe."""
    if sys.stderr.isatty():
        end = "\n" if done == of else ""
        print(f"\rphotographs read: {done} of {of}", end=end, file=sys.stderr, flush=True)


def _print(photograph: PhotographAnswer) -> None:
    if photograph.fault:
        print(f"{photograph.photograph}: {photograph.fault}")
    elif not photograph.tubes:
        print(f"{photograph.photograph}: no print was found. Go nearer, and take it in more light.")
    number = 0
    for place, tube in enumerate(photograph.tubes, 1):
        of_several = f", tube {place}" if len(photograph.tubes) > 1 else ""
        print(f"{photograph.photograph}{of_several}: {tube.label.name or 'no name found'}")
        number = _print_tube(tube, number)


def _print_tube(tube: TubeSeen, number: int) -> int:
    """One tube; `number` counts the doubts of the photograph, as on its marked copy."""
    for line in filter(None, tube.label.text.splitlines()):
        print(f"    | {line}")
    print_label(tube.label, {doubt.message for doubt in tube.doubts})
    for doubt in tube.doubts:
        number += 1
        options = f" Perhaps {' or '.join(doubt.candidates)}." if doubt.candidates else ""
        print(f"?{number} {doubt.message}{options}")
    return number
