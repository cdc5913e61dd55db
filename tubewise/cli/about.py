"""`tubewise show`: what is known of one tube."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Catalogue, Json

if TYPE_CHECKING:
    from rich.console import Console

    from tubewise.advice.counter.about import About


def about(
    tube: Annotated[str, typer.Argument(metavar="TUBE", help="A tube's id or name.")],
    catalogue: Catalogue = None,
    as_json: Json = False,
) -> None:
    """Show what is known of a tube: permanence, handling and cautions in its own binder."""
    from tubewise.advice.counter.about import about as about_tube
    from tubewise.cli import show
    from tubewise.cli.source import tube_named, tubes_in_store, tubes_of

    tubes = tubes_of(catalogue) if catalogue is not None else tubes_in_store()
    answer = about_tube(tube_named(tube, tubes))
    if as_json:
        show.print_json(answer)
    else:
        print_about(answer, show.console())


def print_about(answer: About, to: Console) -> None:
    """Print a tube's facts, what is known against it first."""
    from tubewise.advice.words.permanence import permanence_text
    from tubewise.advice.words.pigments import NOTHING_DECLARED, pigments_text
    from tubewise.cli import show

    kind = f" ({answer.paint})" if answer.paint else ""
    show.line(to, f"{answer.title}{kind}: {pigments_text(answer.pigments, NOTHING_DECLARED)}")
    if answer.warning:
        show.line(to, answer.warning)
    show.line(to, f"lightfastness {permanence_text(answer.lightfastness)}")
    if answer.binder:
        show.line(to, answer.binder)
    for trait in answer.handling:
        show.line(to, f"- {trait.words} ({trait.source or 'no source'})")
    for words in answer.beside:
        show.line(to, f"- {words}")
    show.cautions(to, answer.cautions)
