"""The class check as one HTML page that needs nothing else: for a screen, a phone or a printer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jinja2 import Environment, PackageLoader, StrictUndefined

from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.sheets.shown import occasion_data
from tubewise.sheets.signs import SIGNS

if TYPE_CHECKING:
    from tubewise.advice.classroom.check import ClassCheck


def environment() -> Environment:
    """Templates of this package; everything put into them is escaped."""
    env = Environment(
        loader=PackageLoader("tubewise.sheets", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.filters["film"] = film_gradient
    env.filters["slug"] = _slug
    env.filters.update(money=price_text, pigments=pigments_text, size=size_text)
    return env


def film_gradient(colours: tuple[str, ...]) -> str:
    """A CSS gradient through screen colours, left to right."""
    return f"linear-gradient(90deg,{','.join(colours)})"


def _slug(words: str) -> str:
    return "-".join(words.split())


def class_page(answer: ClassCheck) -> str:
    """The page of a class check: summary, grid of seats and slots, a section for each seat."""
    return (
        environment()
        .get_template("class.html")
        .render(answer=answer, signs=SIGNS, headed=occasion_data(answer.workshop, answer.occasion))
    )
