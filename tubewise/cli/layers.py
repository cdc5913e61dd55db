"""`tubewise layers`: what may lie over what."""

from __future__ import annotations

from typing import Annotated

import typer

from tubewise.cli.options import Catalogue, Json, Medium


def layers(
    coats: Annotated[
        list[str],
        typer.Argument(
            metavar="COAT …", help="From the ground up: a medium, a tube's id or a pigment."
        ),
    ],
    ground: Annotated[
        str,
        typer.Option(
            help="watercolour paper, acrylic primer, oil primer, chalk ground or "
            "“bare canvas or wood”."
        ),
    ] = "",
    medium: Medium = "",
    catalogue: Catalogue = None,
    as_json: Json = False,
) -> None:
    """Tell what may lie over what: oil over acrylic, fat over lean, paint on its ground."""
    from tubewise.advice.layers import coat_of, is_medium
    from tubewise.advice.layers import layers as laid
    from tubewise.cli import show
    from tubewise.cli.source import shelf_of

    shelf = shelf_of([term for term in coats if not is_medium(term)], catalogue)
    answer = laid([coat_of(term, shelf, medium) for term in coats], ground.strip())
    if as_json:
        show.print_json(answer)
        return
    to = show.console()
    for layer in answer.layers:
        show.line(to, layer.words)
