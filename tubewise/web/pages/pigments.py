"""Pigments: the register as a rack of paint, and a page for each."""

from __future__ import annotations

from itertools import groupby

from fastapi import APIRouter, Request
from fastapi.responses import Response

from tubewise.advice.classroom.shopping import shop_of
from tubewise.advice.counter.hue_order import RackPlace, place_on_rack
from tubewise.advice.counter.pigment_facts import pigment_facts
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.paint import Paint
from tubewise.pigments.binders import binder_named
from tubewise.pigments.permanence import lasting
from tubewise.pigments.pigment import Pigment
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.terms import HUES
from tubewise.web.holdings import Holdings
from tubewise.web.missing import MissingError
from tubewise.web.questions import Name
from tubewise.web.render import counter_of, page

router = APIRouter()
# On the first page: so many of each hue, as even to the eye as they fill a screen's width.
_BAND = {"yellow": 6, "orange": 5, "red": 9, "violet": 6, "blue": 7, "green": 7, "brown": 4}


def _paint(holdings: Holdings, pigment: Pigment) -> Paint:
    return holdings.shelf.pigment(Ref.of(pigment.code, _usual_form(pigment)))


def _usual_form(pigment: Pigment) -> str:
    return pigment.default_form.name if pigment.default_form else ""


def rack(holdings: Holdings) -> list[Pigment]:
    """Every pigment of the register, as a rack shows them."""

    def order() -> list[Pigment]:
        return sorted(load(), key=lambda pigment: _place(holdings, pigment))

    return holdings.remember(("rack",), order)


def _place(holdings: Holdings, pigment: Pigment) -> tuple[int, RackPlace]:
    paint = _paint(holdings, pigment)
    colour = Colour.of(holdings.shelf.setting_for(paint).lab_alone(paint)[0])
    place = place_on_rack((), colour, holdings.strip_of(paint))
    return HUES.index(pigment.hue), place


def band(holdings: Holdings) -> list[tuple[Pigment, Paint]]:
    """Some pigments round the circle of hues, as the first page shows them."""

    def choose() -> list[tuple[Pigment, Paint]]:
        chosen: list[Pigment] = []
        for hue, many in _BAND.items():
            kept = [p for p in rack(holdings) if p.hue == hue and lasting(_in_acrylic(p))]
            chosen += kept[:: max(1, len(kept) // many)][:many]
        return [(pigment, _paint(holdings, pigment)) for pigment in chosen]

    return holdings.remember(("band",), choose)


def _in_acrylic(pigment: Pigment) -> str:
    return pigment.lightfastness("acrylic")


@router.get("/pigments")
def pigments(request: Request, hue: Name = "") -> Response:
    """The whole register by hue; with `hue` one of them."""
    holdings = counter_of(request).holdings()
    if hue and hue not in HUES:
        raise UserError(f"ask for {', '.join(HUES)}", where=f"“{hue}”")
    groups = [
        (name, [(p, _paint(holdings, p)) for p in found])
        for name, found in groupby(rack(holdings), key=lambda p: p.hue)
        if hue in ("", name)
    ]
    return page(
        request,
        "pigments.html",
        here="pigments",
        revision=holdings.revision,
        groups=groups,
        hue=hue,
        hues=HUES,
        holdings=holdings,
    )


@router.get("/pigments/{code}")
def pigment(request: Request, code: str, medium: Name = "") -> Response:
    """One pigment: its paint, its forms, what is known of it, and who sells it."""
    holdings = counter_of(request).holdings()
    known = load().get(code)
    if known is None:
        raise MissingError(f"“{code}” is not in the register. Look whether it is printed so.")
    facts = pigment_facts(known, holdings.tubes, _medium(medium))
    shelf = holdings.shelf
    forms = [(ref, shelf.pigment(ref), known.form(ref.form)) for ref in known.refs]
    return page(
        request,
        "pigment.html",
        here="pigments",
        revision=holdings.revision,
        facts=facts,
        pigment=known,
        forms=forms,
        paint=_paint(holdings, known),
        holdings=holdings,
        shop_of=shop_of,
    )


def _medium(typed: str) -> str:
    try:
        return binder_named(typed) if typed else ""
    except ValueError as error:
        raise UserError(str(error), where="medium") from None
