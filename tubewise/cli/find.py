"""`tubewise find`: tubes in the store, by name, code or maker."""

from __future__ import annotations

from typing import Annotated

import typer

from tubewise.cli.options import Json


def find(
    name: Annotated[str, typer.Argument(metavar="NAME", help="A name, spelt near enough.")] = "",
    code: Annotated[str, typer.Option(help="A pigment code, such as PV19.")] = "",
    maker: Annotated[str, typer.Option(help="A maker's name.")] = "",
    most: Annotated[int, typer.Option(help="How many to list.", min=1)] = 20,
    as_json: Json = False,
) -> None:
    """Find tubes that were imported, by name, pigment code or maker."""
    from tubewise.advice.words.pigments import NOTHING_DECLARED, pigments_text
    from tubewise.advice.words.price import price_text
    from tubewise.advice.words.size import size_text
    from tubewise.cli import show
    from tubewise.errors import UserError
    from tubewise.store.store import Store

    if not (name or code or maker):
        raise UserError("say what to find: a name, --code or --maker")
    with Store() as store:
        page = store.find(name, code=code, maker=maker, limit=most)
    if as_json:
        show.print_json(page)
        return
    for tube in page.tubes:
        facts = [
            pigments_text(tube.pigments, NOTHING_DECLARED),
            size_text(tube.size_ml),
            price_text(tube.price, tube.currency),
            "out of stock" if tube.stock == 0 else "",
        ]
        medium = f" ({tube.medium})" if tube.medium else ""
        print(f"{tube.id}\n    {tube.title}{medium}: {', '.join(filter(None, facts))}")
    if not page.tubes:
        print("nothing found")
    if page.total > len(page.tubes):
        print(f"{page.total - len(page.tubes)} more; narrow it down or raise --most")
