"""The recipe card: parts as bars to scale, how to mix them, what to look out for, a blank box."""

from __future__ import annotations

from datetime import date
from typing import Any

from tubewise.advice.cards.recipe_card import RecipeCard
from tubewise.advice.classroom.shopping import shop_of
from tubewise.advice.recipes.results import Recipe
from tubewise.advice.words.lights import light_text, shift_text
from tubewise.advice.words.lists import dotted
from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text, unit_price_text
from tubewise.advice.words.size import size_text
from tubewise.advice.words.sureness import sureness_text
from tubewise.colour.words import seen_words
from tubewise.paints.wash import WATER_NAME
from tubewise.sheets.press import capitalised, press
from tubewise.sheets.shown import caution_texts
from tubewise.tubes.tube import Tube


def pages(
    answer: RecipeCard, paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The card: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    return press(
        "recipe.typ",
        data(answer),
        title=f"Recipe: {answer.target_name}",
        basis=answer.recipe.basis,
        paper=paper,
        format=format,
        on=on,
    )


def data(answer: RecipeCard) -> dict[str, Any]:
    """The card as plain data."""
    recipe = answer.recipe
    whole = all(float(part.parts).is_integer() and part.parts <= 24 for part in recipe.parts)
    return {
        # Numbers are no heading; the colour's name is.
        "heading": capitalised(answer.target.name)
        if _in_numbers(answer.target_name)
        else answer.target_name,
        "target": answer.target_name if _in_numbers(answer.target_name) else "",
        "target_hex": answer.target.hex,
        "target_colour": answer.target.name,
        "hex": recipe.colour.hex,
        "colour": recipe.colour.name,
        "words": capitalised(answer.words),
        "how_near": recipe.how_near,
        "warning": recipe.warning,
        "beside": list(recipe.beside),
        "price": unit_price_text(recipe.price_per_ml, recipe.currency),
        "amounts": answer.amounts.words if answer.amounts else "",
        "basis": recipe.basis,
        "sure": sureness_text(recipe.confidence),
        "within": f"{recipe.uncertainty.delta_e00_95:.1f}",
        "total": f"{sum(part.parts for part in recipe.parts):g}",
        "whole": whole,
        "parts": _parts(answer),
        "steps": list(recipe.steps),
        "mends": [c.words for c in recipe.corrections],
        "lights": [
            {
                "light": light_text(light),
                "code": light,
                "words": shift_text(shift),
                "number": f"{shift:.1f}",
            }
            for light, shift in recipe.metamerism.items()
        ],
        "slips": _slips(recipe),
        "lightfastness": permanence_text(recipe.lightfastness),
        "cautions": caution_texts(recipe.cautions),
        "others": [
            {
                "hex": r.colour.hex,
                "words": r.words if r.kind == "best" else f"{r.kind}: {r.words}",
            }
            for r in answer.others
        ],
    }


def _parts(answer: RecipeCard) -> list[dict[str, Any]]:
    """Each part, the largest first; its bar's length is its share of the largest."""
    most = max(part.parts for part in answer.recipe.parts)
    ordered = sorted(
        zip(answer.recipe.parts, answer.colours, answer.tubes, strict=True),
        key=lambda row: -row[0].parts,
    )
    return [
        {
            "title": part.title,
            "pigments": pigments_text(part.pigments),
            "parts": f"{part.parts:g}",
            "share": part.parts / most,
            "count": round(part.parts),
            "kind": part.paint,
            "shop": _shop(tube),
            "hex": colour.hex,
            "colour": "on white paper" if part.tube == WATER_NAME else colour.name,
        }
        for part, colour, tube in ordered
    ]


def _in_numbers(target: str) -> bool:
    return target.startswith(("lab:", "#", "munsell:"))


def _shop(tube: Tube | None) -> str:
    """What the tube costs and how many there are: `60 ml · 8.15 EUR · 5 in stock`."""
    if tube is None or tube.price is None:
        return ""
    stock = "" if tube.stock is None else f"{tube.stock:g} in stock"
    price = price_text(tube.price, tube.currency)
    return dotted(size_text(tube.size_ml), price, stock, shop_of(tube))


def _slips(recipe: Recipe) -> list[dict[str, str]]:
    """What the usual slips do, in words, with the CIEDE2000 behind them."""
    if len(recipe.parts) < 2:
        return []
    sure = recipe.sureness
    slips = [
        ("one part more or less", sure.one_part),
        ("every part 10 % off", sure.ten_percent),
        ("tubes of another batch", sure.other_batch),
    ]
    return [
        {"slip": slip, "words": seen_words(moved), "number": f"{moved:.1f}"}
        for slip, moved in slips
        if moved is not None
    ]
