"""`tubewise standin`: what can take a tube's place."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from tubewise.cli.options import Catalogue, Json


def standin(
    tube: Annotated[str, typer.Argument(metavar="TUBE", help="A tube's id or name, or a pigment.")],
    from_: Annotated[Path, typer.Option("--from", metavar="FILE", help="Tubes to choose from.")],
    with_: Annotated[
        list[str] | None, typer.Option("--with", metavar="C", help="A partner it must mix with.")
    ] = None,
    most: Annotated[int, typer.Option(help="How many to list.", min=1)] = 8,
    medium: Annotated[str, typer.Option(help="Only tubes of this medium.")] = "",
    catalogue: Catalogue = None,
    as_json: Json = False,
) -> None:
    """Rank stand-ins for a tube, single tubes and mixtures."""
    from tubewise.advice.alike.standin import standin as rank
    from tubewise.advice.words.permanence import permanence_text
    from tubewise.advice.words.price import price_text
    from tubewise.cli import show
    from tubewise.cli.source import shelf_of, tube_named, tubes_of

    candidates = tubes_of(from_)
    shelf = shelf_of((tube, *(with_ or ())), catalogue, candidates)
    from tubewise import labels

    wanted = (
        tube
        if tube not in shelf.tubes and len(labels.read(tube).pigments) == 1
        else tube_named(tube, list(shelf.tubes.values()))
    )
    show.compile_search()
    with show.progress("comparing tubes", quiet=as_json) as step:
        answer = rank(wanted, candidates, shelf, tuple(with_ or ()), most, step, medium)
    if as_json:
        show.print_json(answer)
        return
    to = show.console()
    show.line(to, show.patch(answer.colour, to), answer.words)
    if len(answer.composition) > 1:
        show.line(
            to,
            "pigment by pigment, of 100 parts: "
            + ", ".join(f"{share:g} {ref}" for ref, share in answer.composition),
            indent=2,
        )
    for number, s in enumerate(answer.standins, 1):
        stock = "out of stock" if s.stock == 0 else ""
        facts = ", ".join(filter(None, (s.title, price_text(s.price, s.currency), stock)))
        show.line(to)
        show.line(to, f"{number}. ", show.patch(s.colour, to), facts)
        show.line(
            to,
            f"{s.identity}; {s.words}; worst CIEDE2000 {s.worst_delta_e00:.1f} "
            f"(95 % within {s.low:.1f} to {s.high:.1f}); "
            f"lightfastness {permanence_text(s.lightfastness)}",
            indent=3,
        )
        for reason in s.reasons:
            show.line(to, f"- {reason}", indent=3)
        for caution in s.cautions:
            show.line(to, f"Caution: {caution.text}", indent=3)
