"""`tubewise label`: read what is printed on a tube."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from tubewise.cli.options import Json


def label(
    text: Annotated[str, typer.Argument(metavar="TEXT", help="What the label says.")],
    name: Annotated[str, typer.Option("--name", help="The tube's name, checked against it.")] = "",
    as_json: Json = False,
) -> None:
    """Read a label: its pigments, and what is missing, contradictory or misleading."""
    from tubewise import labels
    from tubewise.pigments.register import load

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
                "cautions": [c.text for c in pigment.cautions] if pigment else [],
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
        print(f"{found.code}{form}{assumed}  {found.name}{number}")
    for warning in reading.warnings:
        printed = name if warning.where == "name" else text
        place = f" [{printed[slice(*warning.span)]}]" if warning.span else ""
        print(f"!{place} {warning.message}")
    for caution in dict.fromkeys(c for p in pigments for c in p["cautions"]):  # type: ignore[attr-defined]
        print(f"Caution: {caution}")
