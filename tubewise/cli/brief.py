"""The class check on one page of a terminal: the grid, what to write to whom, what to buy."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from tubewise.advice.classroom.verdicts import Standing, Verdict
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.cli import show
from tubewise.sheets.signs import SIGNS
from tubewise.tubes.seat_title import seat_title

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from tubewise.advice.classroom.check import ClassCheck
    from tubewise.advice.classroom.shopping import ShoppingList
    from tubewise.advice.classroom.summary import Summary
    from tubewise.tubes.box_lines import BoxRead

# How a seat stands, and how its version of a key mix does.
_STANDING = {Standing.READY: "✓", Standing.NEARLY: "?", Standing.NOT_READY: "✗"}
_AS_SHOWN, _WITH_CARE, _LACKING = "✓", "?", "–"
_MIX_LEGEND = (
    f"Key mixes: {_AS_SHOWN} as you show it  {_WITH_CARE} may differ  {_LACKING} lacks a paint"
)
_WIDEST_NAME = 30
# The verdicts, short enough for one line.
_LEGEND = {
    Verdict.RIGHT: "right",
    Verdict.STAND_IN: "stands in",
    Verdict.CHECK_FORM: "check the form",
    Verdict.MIX: "mix it",
    Verdict.WRONG: "wrong pigment",
    Verdict.MISSING: "missing",
}


def print_brief(answer: ClassCheck, to: Console) -> None:
    """Print what a teacher needs before class."""
    show.line(to, Text(answer.workshop, style="bold"), f": {_readiness(answer.summary)}")
    _print_doubts(answer, to)
    show.line(to, "  ".join(f"{SIGNS[verdict]} {words}" for verdict, words in _LEGEND.items()))
    _print_grid(answer, to)
    _print_messages(answer.summary, to)
    _print_shopping(answer.summary.shopping, to)
    _print_warnings(answer, to)
    for sentence in answer.summary.layers:
        show.line(to, f"* In layers: {sentence}.")
    show.line(
        to, "* Modelled unless measured. Why and how sure: --seat N, or --all for everything."
    )


def _print_doubts(answer: ClassCheck, to: Console) -> None:
    """At which seats lines of the boxes were not clear, before what follows from them."""
    seats = [seat.seat for seat in answer.seats if seat.read.doubtful]
    if seats:
        where = f"{'seat' if len(seats) == 1 else 'seats'} {', '.join(seats)}"
        show.line(to, f"? Not clear in the boxes of {where}: --read shows each line.")


def print_read(boxes: Sequence[BoxRead], to: Console) -> None:
    """Print what every line of the boxes was taken for, and what is doubtful."""
    for box in boxes:
        show.heading(to, seat_title(box.seat))
        for line in box.lines:
            show.line(to, f"“{line.written}”: {line.words}", indent=2)
            if line.doubt:
                show.line(to, f"? {line.doubt}", indent=4)
        if not box.lines:
            show.line(to, "brings no paint", indent=2)


def _readiness(summary: Summary) -> str:
    """`ready 1, 2; nearly ready 3; not ready 4`."""
    seats: dict[str, list[str]] = {}
    for standing in sorted(summary.standings, key=lambda s: list(Standing).index(s.standing)):
        seats.setdefault(standing.standing, []).append(standing.seat)
    return "; ".join(f"{how} {', '.join(some)}" for how, some in seats.items())


def _print_grid(answer: ClassCheck, to: Console) -> None:
    """A row for each slot, each key mix and how the seats stand; a column for each seat."""
    rows = [
        (row[0].slot, [SIGNS[slot.verdict] for slot in row])
        for row in zip(*(seat.slots for seat in answer.seats), strict=True)
    ]
    rows.append(("Ready?", [_STANDING[s.standing] for s in answer.summary.standings]))
    rows += [
        (
            mix.mix,
            [
                _LACKING if seat.missing else _WITH_CARE if seat.with_care else _AS_SHOWN
                for seat in mix.seats
            ],
        )
        for mix in answer.summary.mixes
    ]
    seats = [seat.seat for seat in answer.seats]
    name = min(_WIDEST_NAME, max((len(words) for words, _ in rows), default=0))
    cell = max(map(len, seats), default=1) + 1
    abreast = max(1, (to.width - name) // cell)
    for first in range(0, len(seats), abreast):
        some = slice(first, first + abreast)
        to.print(Text(" " * name + _cells(seats[some], cell), style="bold"))
        for words, signs in rows:
            to.print(Text(f"{words[:name]:<{name}}{_cells(signs[some], cell)}"))
            if words == "Ready?" and answer.summary.mixes:
                to.print(Text(_MIX_LEGEND, style="dim"))


def _cells(signs: Sequence[str], width: int) -> str:
    return "".join(f"{sign:>{width}}" for sign in signs)


def _print_messages(summary: Summary, to: Console) -> None:
    """A line for each thing to write, with the seats that get it."""
    if not any(standing.message for standing in summary.standings):
        return
    show.heading(to, "To write to each seat")
    seats: dict[str, list[str]] = {}
    for standing in summary.standings:
        if standing.message:
            seats.setdefault(standing.message, []).append(standing.seat)
    for message, some in seats.items():
        show.line(to, Text(", ".join(some), style="bold"), f": {message}")


def _print_shopping(shopping: ShoppingList, to: Console) -> None:
    """What to buy, shop by shop, for whom, at what cost."""
    if not shopping.lines:
        return
    totals = ", ".join(price_text(total, currency) for currency, total in shopping.totals)
    show.heading(to, f"To buy, seat by seat{': ' if totals else ''}{totals}")
    shop = ""
    for line in shopping.lines:
        if line.buy.shop != shop:
            shop = line.buy.shop
            show.line(to, f"{shop or 'Elsewhere'}:")
        short = f"; {line.short} more than the shop has" if line.short else ""
        cost = f"  {price_text(line.cost, line.buy.currency)}" if line.cost is not None else ""
        size = size_text(line.buy.size_ml)
        facts = ", ".join(filter(None, (pigments_text(line.buy.pigments), size)))
        show.line(
            to,
            f"{line.count} x {line.buy.title} ({facts}): {', '.join(line.seats)}{cost}{short}",
            indent=2,
        )


def _print_warnings(answer: ClassCheck, to: Console) -> None:
    """What is known against pigments in the boxes, and their cautions, each once."""
    slots = [slot for seat in answer.seats for slot in seat.slots]
    warned = dict.fromkeys(name for slot in slots for name in slot.warned)
    kinds = dict.fromkeys((c.kind, slot.slot) for slot in slots for c in slot.cautions)
    to.print()
    if warned:
        codes = ", ".join(name.partition(" ")[0] for name in warned)
        show.line(to, f"* Something is known against {codes}: see --all.")
    if kinds:
        found = ", ".join(f"{kind} in {slot}" for kind, slot in kinds)
        show.line(to, f"* Caution: {found}. {show.CAUTIONS_FIRST}")
