"""The class check in full, for a terminal: every seat, slot by slot, then the summary."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from tubewise.advice.classroom.verdicts import Verdict
from tubewise.advice.words.lists import seats_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.cli import show
from tubewise.labels.phrasing import listing
from tubewise.sheets.signs import SIGNS
from tubewise.tubes.seat_title import seat_title

if TYPE_CHECKING:
    from rich.console import Console

    from tubewise.advice.classroom.check import ClassCheck
    from tubewise.advice.classroom.seat import SeatCheck
    from tubewise.advice.classroom.slot_verdict import SlotVerdict
    from tubewise.advice.classroom.summary import Summary


def print_all(answer: ClassCheck, to: Console) -> None:
    """Print every seat, then the teacher's summary."""
    for seat in answer.seats:
        print_seat(seat, to)
    print_summary(answer.summary, to)
    show.cautions(to, (c for seat in answer.seats for s in seat.slots for c in s.cautions))


def print_seat(seat: SeatCheck, to: Console) -> None:
    """One seat: verdict, reason and what to do, slot by slot."""
    show.heading(to, seat_title(seat.seat))
    for slot in seat.slots:
        _print_verdict(slot, to)
        for words in (slot.warning, *slot.reasons):
            if words:
                show.line(to, words, indent=4)
        show.line(to, f"→ {slot.do}", indent=4)
    for remark in seat.remarks:
        show.line(to, f"* {remark}", indent=2)
    cautions = dict.fromkeys((c.kind, s.slot) for s in seat.slots for c in s.cautions)
    if cautions:
        found = ", ".join(f"{kind} in {slot}" for kind, slot in cautions)
        show.line(to, f"* Caution: {found}; see the end", indent=2)


def print_troubles(seat: SeatCheck, to: Console) -> None:
    """What needs the owner's attention at one seat: the verdict, the reason, what to do."""
    show.heading(to, seat_title(seat.seat))
    troubled = [slot for slot in seat.slots if slot.verdict != Verdict.RIGHT or slot.short]
    for slot in troubled:
        _print_verdict(slot, to)
        for reason in slot.reasons[:1]:
            show.line(to, reason, indent=4)
        show.line(to, f"→ {slot.do}", indent=4)
    right = [slot.slot for slot in seat.slots if slot not in troubled]
    if right:
        show.line(to, f"{SIGNS[Verdict.RIGHT]} {listing(right)}: right, use them")
    for remark in seat.remarks:
        show.line(to, f"* {remark}", indent=2)


def _print_verdict(slot: SlotVerdict, to: Console) -> None:
    pair = Text("")
    if show.can_show(to):
        pair = Text("  ", style=f"on {slot.asked.hex}")
        pair.append("  ", style=f"on {(slot.has or slot.asked).hex}" if slot.has else "")
        pair.append(" ", style="default on default")
    kind = f" ({slot.paint})" if slot.paint else ""
    title = f": {slot.title}{kind}" if slot.title else ""
    show.line(
        to,
        f"{SIGNS[slot.verdict]} ",
        pair,
        Text(slot.slot, style="bold"),
        f" - {slot.verdict}{title}",
    )


def print_summary(summary: Summary, to: Console) -> None:
    """Who is ready, what to buy and at what cost, which mixes to demonstrate with care."""
    show.heading(to, "For the teacher")
    for standing in summary.standings:
        tail = f": {standing.todo}" if standing.todo else ""
        show.line(to, f"seat {standing.seat} is {standing.standing}{tail}", indent=2)
    show.heading(to, "To buy")
    if not summary.shopping.lines:
        show.line(to, "nothing", indent=2)
    for line in summary.shopping.lines:
        short = f"; {line.short} more than the shop has" if line.short else ""
        cost = price_text(line.cost, line.buy.currency)
        shop = f" at {line.buy.shop}" if line.buy.shop else ""
        facts = pigments_text(line.buy.pigments), size_text(line.buy.size_ml)
        show.line(
            to,
            f"{line.count} x {line.buy.title} ({', '.join(filter(None, facts))})"
            f"{shop}, for {seats_text(line.seats)}{'  ' if cost else ''}{cost}{short}",
            indent=2,
        )
    for currency, total in summary.shopping.totals:
        show.line(to, f"in all {price_text(total, currency)}", indent=2)
    if summary.layers:
        show.heading(to, "In layers")
    for sentence in summary.layers:
        show.line(to, sentence, indent=2)
    if summary.mixes:
        show.heading(to, "Key mixes")
    for mix in summary.mixes:
        show.line(
            to,
            show.patch(mix.colour, to),
            Text(mix.mix, style="bold"),
            f" ({mix.parts}): {mix.words}",
            indent=2,
        )
    show.line(to)
    show.line(
        to,
        "Colours are modelled from the pigments on the labels unless a swatch or "
        "measurement is given. Lightfastness and cautions: the tube's label, the safety data "
        "sheet and local rules come first.",
    )
