"""One tube of a palette as every door shows it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tubewise.advice.palette.offer import Kind
from tubewise.advice.words.lists import dotted
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.colour.patch import Colour
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import Strip, strip


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """A tube of a palette, or a pigment where nobody sells one; `words` says it in a line."""

    tube: str | None
    title: str
    pigments: tuple[str, ...]
    size_ml: float | None
    price: float | None
    currency: str
    colour: Colour
    words: str
    strip: Strip


def chosen(kind: Kind, shelf: Shelf) -> Chosen:
    """A kind of paint with the tube to buy."""
    tube, paint = kind.tube, kind.paint
    setting = shelf.setting(tube.medium if tube else "")
    facts = dotted(
        pigments_text(kind.pigments),
        size_text(tube.size_ml) if tube else "",
        price_text(tube.price, tube.currency) if tube else "",
    )
    return Chosen(
        tube=tube.id if tube else None,
        title=tube.title if tube else paint.name,
        pigments=kind.pigments,
        size_ml=tube.size_ml if tube else None,
        price=tube.price if tube else None,
        currency=tube.currency if tube else "",
        colour=Colour.of(setting.lab_alone(paint)[0]),
        words=f"{tube.title} ({facts})" if tube else paint.name,
        strip=strip(paint, setting),
    )


def total_price(kinds: Iterable[Kind]) -> float | None:
    """What the cheapest tubes of the kinds cost together; None where one price is not known."""
    known = [kind.price for kind in kinds]
    return None if None in known or not known else round(sum(p for p in known if p is not None), 2)
