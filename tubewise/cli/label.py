"""`tubewise label`: read what is printed on a tube."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Json

if TYPE_CHECKING:
    from tubewise.labels import Declared
    from tubewise.pigments.pigment import Pigment


def label(
    text: Annotated[str, typer.Argument(metavar="TEXT", help="What the label says.")],
    name: Annotated[str, typer.Option("--name", help="The tube's name, checked against it.")] = "",
    as_json: Json = False,
) -> None:
    """Read a label: its pigments, and what is missing, contradictory or misleading."""
    from tubewise import labels
    from tubewise.pigments.register import load
    from tubewise.pigments.terms import BINDERS

    reading = labels.read(text, name=name)
    register = load()
    pigments = []
    for found in reading.pigments:
        pigment = register.get(found.code)
        pigments.append(
            {
                "code": found.code,
                "form": found.form,
                "constitution": found.constitution,
                "name": found.name,
                "span": found.span,
                "form_assumed": found.form_assumed,
                "opacity": _opacity(pigment, found.form),
                "lightfastness": {b: pigment.lightfastness(b) for b in BINDERS} if pigment else {},
                "cautions": [c.text for c in pigment.cautions_for(found.form)] if pigment else [],
            }
        )
    warnings = [
        {"kind": w.kind, "message": w.message, "span": w.span, "where": w.where}
        for w in reading.warnings
    ]
    if as_json:
        print(
            json.dumps({"pigments": pigments, "warnings": warnings}, ensure_ascii=False, indent=2)
        )
        return
    for found in reading.pigments:
        form = f"/{found.form}" if found.form else ""
        assumed = " (form assumed)" if found.form and found.form_assumed else ""
        number = f", C.I. {found.constitution}" if found.constitution else ""
        print(f"{found.code}{form}{assumed}  {_called(register.get(found.code), found)}{number}")
        if pigment := register.get(found.code):
            print(f"    {_lasting(pigment, found.form)}")
    for warning in reading.warnings:
        printed = name if warning.where == "name" else text
        place = f" [{printed[slice(*warning.span)]}]" if warning.span else ""
        print(f"!{place} {warning.message}")
    for caution in dict.fromkeys(c for p in pigments for c in p["cautions"]):  # type: ignore[attr-defined]
        print(f"Caution: {caution}")


def _called(pigment: Pigment | None, found: Declared) -> str:
    """The name of the form where the label shows one, else the pigment's common name."""
    form = pigment.form(found.form) if pigment and found.form and not found.form_assumed else None
    return form.note if form and form.note else found.name


def _opacity(pigment: Pigment | None, form: str) -> str:
    own = pigment.form(form) if pigment and form else None
    return (own.opacity if own else "") or (pigment.opacity if pigment else "")


def _lasting(pigment: Pigment, form: str) -> str:
    """Opacity and lightfastness in a line; binders that agree are told together."""
    from tubewise.pigments.terms import BINDERS

    said: dict[str, list[str]] = {}
    for binder in BINDERS:
        category = pigment.lightfastness(binder)
        if category == "not rated" and pigment.is_fugitive(binder):
            category = "fugitive"
        said.setdefault(category, []).append(binder)
    rated = "; ".join(f"{category} in {', '.join(binders)}" for category, binders in said.items())
    opacity = _opacity(pigment, form)
    return f"{opacity + ', ' if opacity else ''}lightfastness {rated}"
