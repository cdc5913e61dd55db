"""`tubewise find`: tubes in the store, by what is asked of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Json, OnlyMedium

if TYPE_CHECKING:
    from tubewise.advice.counter.finding import FoundTubes, Search
    from tubewise.store.store import Store
    from tubewise.tubes.tube import Tube


@dataclass(frozen=True, kw_only=True)
class FindQuestion:
    """What `tubewise find` is asked."""

    name: Annotated[str, typer.Argument(metavar="NAME", help="A name, spelt near enough.")] = ""
    code: Annotated[str, typer.Option(help="A pigment code, such as PV19.")] = ""
    maker: Annotated[str, typer.Option(help="A maker's name.")] = ""
    hue: Annotated[
        str,
        typer.Option(help="yellow, orange, red, violet, blue, green, brown, black, white or grey."),
    ] = ""
    medium: OnlyMedium = ""
    permanence: Annotated[str, typer.Option(help="lasting, I, fading or not rated.")] = ""
    at_most: Annotated[float | None, typer.Option(help="A price it may cost.", min=0.0)] = None
    in_stock: Annotated[bool, typer.Option("--in-stock", help="Only what is in stock.")] = False
    most: Annotated[int, typer.Option(help="How many to list.", min=1)] = 20
    as_json: Json = False

    @property
    def search(self) -> Search:
        """The same as the advice takes it."""
        from tubewise.advice.counter.finding import Search

        return Search(
            name=self.name,
            code=self.code,
            maker=self.maker,
            hue=self.hue,
            medium=self.medium,
            permanence=self.permanence,
            in_stock=self.in_stock,
            at_most=self.at_most,
        )


def find(question: FindQuestion) -> None:
    """Find tubes that were imported, by name, pigment, maker, hue, permanence or price."""
    from tubewise.cli import show
    from tubewise.errors import UserError
    from tubewise.store.store import Store

    if question.search.is_empty:
        raise UserError("say what to find: a name, --code, --maker or another option")
    with Store() as store:
        found = _found(question, store)
    if question.as_json:
        show.print_json(found.as_data())
    else:
        _print(found)


def _found(question: FindQuestion, store: Store) -> FoundTubes:
    from tubewise.advice.counter.finding import FoundTubes, find
    from tubewise.advice.counter.look import look
    from tubewise.measure.attach import measured_optics
    from tubewise.paints.shelf import Shelf

    shelf = Shelf((), measured_optics(store)) if question.hue else Shelf()
    tubes = find(question.search, store, lambda tube: look(tube, shelf).colour)
    return FoundTubes.of(tubes, 0, question.most)


def _print(found: FoundTubes) -> None:
    for tube in found.tubes:
        medium = f" ({tube.medium})" if tube.medium else ""
        print(f"{tube.id}\n    {tube.title}{medium}: {_facts(tube)}")
    if not found.tubes:
        print("nothing found")
    if found.more:
        print(f"{found.more} more; narrow it down or raise --most")


def _facts(tube: Tube) -> str:
    from tubewise.advice.words.pigments import NOTHING_DECLARED, pigments_text
    from tubewise.advice.words.price import price_text
    from tubewise.advice.words.size import size_text

    facts = (
        pigments_text(tube.pigments, NOTHING_DECLARED),
        size_text(tube.size_ml),
        price_text(tube.price, tube.currency),
        "out of stock" if tube.stock == 0 else "",
    )
    return ", ".join(filter(None, facts))
