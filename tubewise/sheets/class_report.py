"""The class report: a grid for the teacher, what to buy, the key mixes, then one page a seat."""

from __future__ import annotations

from datetime import date
from typing import Any

from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.mix_report import MixReport
from tubewise.advice.classroom.seat import SeatCheck
from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.summary import SeatStanding
from tubewise.advice.classroom.verdicts import Verdict
from tubewise.advice.words.lists import dotted
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.sheets.press import press, shortened
from tubewise.sheets.shown import key_data, occasion_data, strip_data
from tubewise.sheets.signs import SIGNS

# A seat may be a person's name; in the grid there is room for so many letters.
SHORT = 16


def pages(
    answer: ClassCheck, paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The report: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    return press(
        "class_report.typ",
        data(answer),
        title=f"Class check: {answer.occasion.title or answer.workshop}",
        paper=paper,
        format=format,
        on=on,
    )


def data(answer: ClassCheck) -> dict[str, Any]:
    """The report as plain data."""
    standings = answer.summary.standings
    return {
        **occasion_data(answer.workshop, answer.occasion),
        "signs": [{"sign": sign, "verdict": verdict} for verdict, sign in SIGNS.items()],
        "slots": [s.slot for s in answer.seats[0].slots] if answer.seats else [],
        "key": key_data(s.asked_strip for seat in answer.seats for s in seat.slots),
        "ready": len(answer.summary.ready),
        "seats": [_seat(seat, s) for seat, s in zip(answer.seats, standings, strict=True)],
        "shopping": [
            {
                "count": str(line.count),
                "title": dotted(line.buy.title, size_text(line.buy.size_ml)),
                "pigments": pigments_text(line.buy.pigments),
                "shop": line.buy.shop,
                "seats": ", ".join(line.seats),
                "cost": price_text(line.cost, line.buy.currency),
            }
            for line in answer.summary.shopping.lines
        ],
        "totals": [price_text(n, currency) for currency, n in answer.summary.shopping.totals],
        "layers": list(answer.summary.layers),
        "mixes": [_mix(mix) for mix in answer.summary.mixes],
    }


def _seat(seat: SeatCheck, standing: SeatStanding) -> dict[str, Any]:
    return {
        "seat": seat.seat,
        "short": shortened(seat.seat, SHORT),
        "standing": standing.standing,
        "todo": standing.todo or "everything the lesson needs is in this box",
        "slots": [_slot(slot) for slot in seat.slots],
        "remarks": [*seat.remarks, *(f"Caution, {words}" for words in seat.cautions)],
    }


def _slot(slot: SlotVerdict) -> dict[str, Any]:
    # A tube that is simply right needs no reasons on paper; the form to check needs them all.
    most = {Verdict.RIGHT: 0, Verdict.CHECK_FORM: 6, Verdict.WRONG: 4}.get(slot.verdict, 3)
    return {
        "slot": slot.slot,
        "verdict": slot.verdict,
        "sign": SIGNS[slot.verdict],
        "mixable": slot.recipe is not None,
        "title": slot.title,
        "do": slot.do,
        "warning": slot.warning,
        "reasons": list(slot.reasons[:most]),
        "sure": "" if slot.verdict == Verdict.RIGHT else f"confidence {slot.confidence}",
        "asked": strip_data(slot.asked_strip),
        "asked_name": slot.asked.name,
        "has": strip_data(slot.has_strip),
        "has_name": slot.has.name if slot.has else "",
    }


def _mix(mix: MixReport) -> dict[str, Any]:
    return {
        "mix": mix.mix,
        "parts": mix.parts,
        "aim": mix.aim,
        "words": mix.words,
        "hex": mix.colour.hex,
        "name": mix.colour.name,
        "seats": [
            {
                "seat": shortened(s.seat, SHORT),
                "hex": s.colour.hex,
                "care": s.seat in mix.with_care,
            }
            for s in mix.seats
        ],
    }
