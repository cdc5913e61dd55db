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
        price = "" if tube.price is None else f", {tube.price:.2f} {tube.currency}"
        size = "" if tube.size_ml is None else f", {tube.size_ml:g} ml"
        stock = ", out of stock" if tube.stock == 0 else ""
        medium = f" ({tube.medium})" if tube.medium else ""
        held = ", ".join(tube.pigments) or "nothing declared"
        print(f"{tube.id}\n    {tube.title}{medium}: {held}{size}{price}{stock}")
    if not page.tubes:
        print("nothing found")
    if page.total > len(page.tubes):
        print(f"{page.total - len(page.tubes)} more; narrow it down or raise --most")
