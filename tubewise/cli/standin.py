"""`tubewise standin`: what can take a tube's place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import (
    All,
    From,
    Json,
    OnlyMedium,
    PurposeText,
    Seat,
    Shop,
    Without,
)

if TYPE_CHECKING:
    from rich.console import Console

    from tubewise.advice.alike.standin_results import StandIn, StandIns


@dataclass(frozen=True, kw_only=True)
class StandInQuestion:
    """What `tubewise standin` is asked."""

    tube: Annotated[str, typer.Argument(metavar="TUBE", help="A tube's id or name, or a pigment.")]
    from_: From = None
    seat: Seat = ""
    with_: Annotated[
        list[str] | None, typer.Option("--with", metavar="C", help="A partner it must mix with.")
    ] = None
    most: Annotated[int, typer.Option(help="How many to list.", min=1)] = 5
    medium: OnlyMedium = ""
    for_: PurposeText = ""
    without: Without = None
    sold_out: Annotated[bool, typer.Option("--sold-out", help="List what is not in stock too.")] = (
        False
    )
    catalogue: Shop = None
    all_: All = False
    as_json: Json = False


def standin(question: StandInQuestion) -> None:
    """Rank stand-ins for a tube, single tubes and mixtures."""
    from tubewise import labels
    from tubewise.advice.alike.standin import standin as rank
    from tubewise.advice.alike.standin_results import StandInWishes
    from tubewise.cli import show
    from tubewise.cli.source import shelf_of, tube_named, tubes_from
    from tubewise.pigments.purpose import purpose_typed

    tube, partners = question.tube, tuple(question.with_ or ())
    wishes = StandInWishes(
        purpose=purpose_typed(question.for_),
        without=tuple(question.without or ()),
        sold_out=question.sold_out,
    )
    candidates = tubes_from(question.from_, question.seat, question.catalogue)
    shelf = shelf_of((tube, *partners), question.catalogue, candidates)
    wanted = (
        tube
        if tube not in shelf.tubes and len(labels.read(tube).pigments) == 1
        else tube_named(tube, list(shelf.tubes.values()))
    )
    show.compile_search()
    with show.progress("comparing tubes", quiet=question.as_json) as step:
        answer = rank(
            wanted, candidates, shelf, partners, question.most, step, question.medium, wishes
        )
    if question.as_json:
        show.print_json(answer)
    else:
        print_standins(answer, show.console(), everything=question.all_)


def print_standins(answer: StandIns, to: Console, *, everything: bool = False) -> None:
    """Print what is wanted and each stand-in; with `everything` what was passed over, and why."""
    from tubewise.advice.recipes.results import left_out_words
    from tubewise.cli import show
    from tubewise.pigments.permanence import own_cautions

    show.line(to, show.patch(answer.colour, to), answer.words)
    if everything and len(answer.composition) > 1:
        show.line(
            to,
            "pigment by pigment, of 100 parts: "
            + ", ".join(f"{share:g} {ref}" for ref, share in answer.composition),
            indent=2,
        )
    for words in left_out_words(answer.left_out) if everything else ():
        show.line(to, words, indent=2)
    for number, standin in enumerate(answer.standins, 1):
        if everything:
            show.line(to)
        _print_standin(number, standin, to, everything=everything)
    if everything:
        show.cautions(to, (c for standin in answer.standins for c in standin.cautions))
        return
    kinds = dict.fromkeys(c.kind for s in answer.standins for c in own_cautions(s.cautions))
    if kinds:
        show.line(to, f"* Caution: {', '.join(kinds)}. {show.CAUTIONS_FIRST}")
    show.line(to, "* Modelled unless measured. Why, how sure and what was passed over: --all.")


def _print_standin(number: int, standin: StandIn, to: Console, *, everything: bool) -> None:
    from tubewise.advice.words.permanence import permanence_text
    from tubewise.advice.words.price import price_text
    from tubewise.cli import show

    stock = "out of stock" if standin.stock == 0 else ""
    price = price_text(standin.price, standin.currency)
    facts = ", ".join(filter(None, (standin.title, standin.paint, price, stock)))
    show.line(to, f"{number}. ", show.patch(standin.colour, to), facts)
    if standin.warning:
        show.line(to, standin.warning, indent=3)
    lasts = f"lightfastness {permanence_text(standin.lightfastness)}"
    # The parts of a mixture are its title already.
    verdict = standin.reasons[0] if standin.recipe else standin.words
    if not everything:
        show.line(to, f"{verdict}; {lasts}", indent=3)
        return
    show.line(
        to,
        f"{standin.identity}; {standin.words}; worst CIEDE2000 {standin.worst_delta_e00:.1f} "
        f"(95 % within {standin.low:.1f} to {standin.high:.1f}); {lasts}",
        indent=3,
    )
    if standin.character:
        show.line(to, f"- of another character: it {', '.join(standin.character)}", indent=3)
    for reason in standin.reasons:
        show.line(to, f"- {reason}", indent=3)
