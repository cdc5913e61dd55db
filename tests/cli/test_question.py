"""A command's question as one value: what typer reads from the dataclass."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer
from typer.testing import CliRunner

from tubewise.cli.question import answering


@dataclass(frozen=True, kw_only=True)
class Paper:
    """What several commands share."""

    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4"


@dataclass(frozen=True, kw_only=True)
class Card(Paper):
    """What one command adds."""

    terms: Annotated[list[str], typer.Argument(metavar="TERM…")]
    from_: Annotated[Path | None, typer.Option("--from", metavar="FILE")] = None
    most: Annotated[int, typer.Option(min=1)] = 3


def ask(*words: str) -> tuple[int, str, list[Card]]:
    heard: list[Card] = []

    def card(question: Card) -> None:
        """Print a card."""
        heard.append(question)

    app = typer.Typer(rich_markup_mode=None)
    app.command()(answering(Card, card))
    ran = CliRunner().invoke(app, words)
    return ran.exit_code, ran.output, heard


def test_words_become_one_value() -> None:
    assert ask("PB29", "PV19", "--from", "box.csv", "--paper", "letter")[2] == [
        Card(terms=["PB29", "PV19"], from_=Path("box.csv"), most=3, paper="letter")
    ]


def test_a_field_without_a_default_is_required_and_bounds_hold() -> None:
    assert ask()[0] == 2
    assert ask("PB29", "--most", "0")[0] == 2


def test_help_shows_the_commands_own_options_before_those_it_shares() -> None:
    shown = ask("--help")[1]
    assert "Print a card." in shown
    assert shown.index("--from") < shown.index("--most") < shown.index("--paper")
