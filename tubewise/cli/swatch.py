"""`tubewise swatch`: colours of painted daubs from a photograph that shows something known."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Catalogue, Json
from tubewise.errors import UserError

if TYPE_CHECKING:
    from tubewise.advice.photographs.swatches import Pointed, SwatchAnswer


@dataclass(frozen=True, kw_only=True)
class SwatchQuestion:
    """What `tubewise swatch` is asked."""

    photo: Annotated[
        Path, typer.Argument(metavar="PHOTO", help="The photograph; a camera's raw file too.")
    ]
    card: Annotated[
        str, typer.Option(help="What is known on it: chart, white-grey, paints or none.")
    ] = "chart"
    white: Annotated[str, typer.Option(metavar="x,y", help="Where the white card lies.")] = ""
    grey: Annotated[str, typer.Option(metavar="x,y", help="Where the 18 % grey card lies.")] = ""
    known: Annotated[
        list[str] | None,
        typer.Option(metavar="TERM=x,y", help="A daub of a known paint, as PW6=400,300."),
    ] = None
    daub: Annotated[
        list[str] | None,
        typer.Option(
            metavar="[NAME=]x,y", help="A daub to read; without any they are found on the paper."
        ),
    ] = None
    linear: Annotated[
        bool,
        typer.Option("--linear", help="The picture is a TIFF or PNG of 16 bits with linear light."),
    ] = False
    out: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Write the daubs there as tubes with swatch_lab."),
    ] = None
    catalogue: Catalogue = None
    as_json: Json = False


def swatch(question: SwatchQuestion) -> None:
    """Read daubs off a photograph: CIELAB with how sure it is, or hue words without a card."""
    from tubewise.advice.photographs.swatches import card_named, read_daubs, write_swatches
    from tubewise.advice.plain import to_json
    from tubewise.cli.source import shelf_of

    card = card_named(question.card)
    known = _known(question)
    if known and card != ("white-grey" if question.white or question.grey else "paints"):
        raise UserError("--white and --grey go with --card white-grey, --known with --card paints.")
    terms = [place.what for place in known] if card == "paints" else []
    answer = read_daubs(
        question.photo,
        card,
        known=known,
        daubs=[_pointed(text, f"daub {n}") for n, text in enumerate(question.daub or (), 1)],
        shelf=shelf_of(terms, question.catalogue),
        linear=question.linear,
    )
    if question.out is not None:
        write_swatches(question.out, answer)
    if question.as_json:
        print(to_json(answer))
    else:
        _print(answer, question.out)


def _known(question: SwatchQuestion) -> list[Pointed]:
    cards = [f"{name}={at}" for name, at in _cards(question) if at]
    return [_pointed(text, "") for text in (*cards, *(question.known or ()))]


def _cards(question: SwatchQuestion) -> tuple[tuple[str, str], ...]:
    return ("white", question.white), ("grey", question.grey)


def _pointed(text: str, name: str) -> Pointed:
    """`rose=400,300` or `400,300`, in pixels of the upright picture. Raises UserError."""
    from tubewise.advice.photographs.swatches import Pointed

    what, mark, place = text.rpartition("=")
    try:
        x, y = (float(part) for part in place.split(","))
    except ValueError:
        raise UserError("A place is two numbers of pixels, as 400,300.", where=text) from None
    if not (mark or name):
        raise UserError("Say which paint lies there, as PW6=400,300.", where=text)
    return Pointed(what=what.strip() or name, x=x, y=y)


def _print(answer: SwatchAnswer, out: Path | None) -> None:
    for daub in answer.daubs:
        if daub.colour is None:
            print(f"{daub.name} ({daub.x:.0f},{daub.y:.0f}): {daub.fault or daub.words}")
            continue
        print(
            f"{daub.name} ({daub.x:.0f},{daub.y:.0f}): {daub.words}, {daub.target}, "
            f"{daub.colour.hex}; within CIEDE2000 {daub.delta_e_95:g} in 95 of 100 cases"
        )
    if answer.residuals:
        mean = sum(answer.residuals) / len(answer.residuals)
        print(f"What is known on the picture is met within CIEDE2000 {mean:.1f} on average.")
    if answer.card_source:
        print(f"The chart's colours are those of {answer.card_source}.")
    for note in answer.notes:
        print(f"! {note}")
    if out is not None:
        print(f"The daubs are in {out}; their mirror reflection counts as excluded.")
