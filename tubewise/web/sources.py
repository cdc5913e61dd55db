"""The tubes an address mixes from: a box, or what a shop has in stock."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.errors import UserError
from tubewise.tubes.tube import Tube
from tubewise.web.holdings import Holdings

GRADES = ("artist", "student")
_STOCK = "stock\n"


@dataclass(frozen=True, slots=True)
class Source:
    """Tubes to mix from; `key` names them in an address, `words` on a page."""

    key: str
    words: str
    tubes: tuple[Tube, ...]

    @property
    def is_stock(self) -> bool:
        """Whether a shop sells them; else somebody owns them."""
        return self.key.startswith(_STOCK)


def sources_of(holdings: Holdings) -> tuple[Source, ...]:
    """Every box, and what the shop has in stock by medium and grade; found once."""
    return holdings.remember(("sources",), lambda: (*_boxes(holdings), *_stock(holdings)))


def _boxes(holdings: Holdings) -> list[Source]:
    return [
        Source(f"{name}\n{box.seat}", f"seat {box.seat}" + (f", {name}" if name else ""), box.tubes)
        for name, boxes in holdings.boxes.items()
        for box in boxes
    ]


def _stock(holdings: Holdings) -> list[Source]:
    by_kind = {
        (medium, grade): tuple(
            t for t in holdings.tubes if (t.medium, t.grade) == (medium, grade) and t.stock != 0
        )
        for medium in holdings.media
        for grade in GRADES
    }
    return [
        Source(f"{_STOCK}{medium}\n{grade}", f"in stock: {grade} {medium}", tubes)
        for (medium, grade), tubes in by_kind.items()
        if tubes
    ]


def source_of(holdings: Holdings, key: str) -> Source:
    """The source an address means; the first where it means none. Raises UserError without any."""
    sources = sources_of(holdings)
    wanted = key.replace("\r\n", "\n")
    found = next((s for s in sources if s.key == wanted), None)
    if found is None and wanted:
        raise UserError("There is no such box here; choose one from the list.")
    if found is None and not sources:
        raise UserError("There is no box and no tube in stock to mix from yet.")
    return found or sources[0]
