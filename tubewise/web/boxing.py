"""Putting tubes into a seat's box, as a tube's page and the tray ask it."""

from __future__ import annotations

from collections.abc import Sequence

from tubewise.errors import UserError
from tubewise.tubes.tube import Box, Tube, box_of
from tubewise.web.counter import Counter
from tubewise.web.holdings import Holdings


def put_into_box(counter: Counter, tubes: Sequence[Tube], box: str, seat: str) -> str:
    """Put tubes into a box and return whose it is; what lies in it already stays.

    `box` is the set's name and the seat, parted by a line end, as a form's choice has it; a typed
    `seat` goes before the chosen one. Raises UserError without either.
    """
    holdings = counter.holdings()
    name, _, chosen = box.partition("\n")
    wanted = seat.strip() or chosen.strip()
    if not wanted:
        raise UserError("Say whose box: choose a seat or write a new one.")
    counter.change(lambda store: _put(holdings, tubes, name.strip("\r "), wanted))
    return wanted


def _put(holdings: Holdings, tubes: Sequence[Tube], name: str, seat: str) -> None:
    own = box_of(holdings.store.boxes(name), seat) or Box(seat, ())
    there = {tube.id for tube in own.tubes}
    new = tuple(tube for tube in tubes if tube.id not in there)
    if new:
        holdings.store.import_boxes([Box(own.seat, (*own.tubes, *new))], name)
