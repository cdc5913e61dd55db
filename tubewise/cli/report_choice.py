"""How much of a class check is printed: one page, some seats, or all of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tubewise.cli.brief import print_brief
from tubewise.cli.report import print_all, print_troubles
from tubewise.errors import UserError
from tubewise.tubes.folded import folded

if TYPE_CHECKING:
    from rich.console import Console

    from tubewise.advice.classroom.check import ClassCheck


def print_chosen(
    answer: ClassCheck, to: Console, seats: Sequence[str] = (), *, everything: bool = False
) -> None:
    """Print `everything`, or what concerns the named `seats`, or a page of the most needed.

    Raises UserError for a seat that is not in the class.
    """
    known = {folded(seat.seat): seat for seat in answer.seats}
    for name in seats:
        if folded(name) not in known:
            seats_here = ", ".join(seat.seat for seat in answer.seats)
            raise UserError(f"there is no seat {name} in these boxes; the seats are {seats_here}")
    if everything:
        print_all(answer, to)
    for name in () if everything else seats:
        print_troubles(known[folded(name)], to)
    if not seats and not everything:
        print_brief(answer, to)
