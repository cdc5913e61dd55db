"""`tubewise compare`: two tubes side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

import typer

from tubewise.cli.options import All, Catalogue, Json, Medium, Numbers, PurposeText


@dataclass(frozen=True, kw_only=True)
class CompareQuestion:
    """What `tubewise compare` is asked."""

    a: Annotated[str, typer.Argument(metavar="A", help="A pigment or a tube's id.")]
    b: Annotated[str, typer.Argument(metavar="B", help="The other one.")]
    with_: Annotated[
        list[str] | None,
        typer.Option("--with", metavar="C", help="A partner to mix both with; may be repeated."),
    ] = None
    medium: Medium = ""
    for_: PurposeText = ""
    catalogue: Catalogue = None
    numbers: Numbers = False
    all_: All = False
    as_json: Json = False


def compare(question: CompareQuestion) -> None:
    """Tell whether two tubes are the same, alone, thin, tinted and in mixtures."""
    from tubewise.advice.alike.compare import compare as compare_tubes
    from tubewise.advice.words.permanence import permanence_text
    from tubewise.cli import show
    from tubewise.cli.source import shelf_of
    from tubewise.pigments.purpose import purpose_typed

    a, b, partners = question.a, question.b, tuple(question.with_ or ())
    shelf = shelf_of((a, b, *partners), question.catalogue)
    purpose = purpose_typed(question.for_)
    answer = compare_tubes(a, b, shelf, partners, question.medium, purpose)
    if question.as_json:
        show.print_json(answer)
        return
    to = show.console()
    sides = zip((answer.a, answer.b), answer.paints, strict=True)
    show.line(to, "  |  ".join(f"{name} ({paint})" if paint else name for name, paint in sides))
    for warning in filter(None, dict.fromkeys(answer.warnings)):
        show.line(to, warning)
    sure = f"{answer.basis}, confidence {answer.confidence}"
    show.line(to, f"{answer.verdict} ({sure}); {answer.identity}")
    for d in answer.situations:
        show.difference(to, d, numbers=question.numbers or question.all_)
    if answer.character:
        show.line(to, f"- of another character: the second {', '.join(answer.character)}")
    for sentence in answer.layers:
        show.line(to, f"- in layers: {sentence}")
    for reason in answer.reasons if question.all_ else ():
        show.line(to, f"- {reason}")
    show.line(to, f"lightfastness: {' and '.join(map(permanence_text, answer.lightfastness))}")
    show.cautions(to, answer.cautions)
