"""Which supply list and which set of boxes an address means, and the advice on them."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from tubewise.advice.classroom.check import ClassCheck, check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.errors import UserError
from tubewise.pigments.purpose import Purpose, purpose_typed
from tubewise.search.compiled import ready
from tubewise.tubes.supply import SupplyList
from tubewise.web.holdings import Holdings
from tubewise.web.questions import ClassAddress
from tubewise.web.works import Progress


@dataclass(frozen=True, slots=True)
class ClassChoice:
    """The names of the list and of the set of boxes chosen, and of those there are.

    `typed` is what the paint is for, as it was asked.
    """

    list: str
    boxes: str
    lists: tuple[str, ...]
    sets: tuple[str, ...]
    typed: str = ""

    @property
    def is_whole(self) -> bool:
        """Whether there is a list and a set of boxes to check against it."""
        return bool(self.list and self.sets)

    @property
    def query(self) -> str:
        """The address's part that names both, and the purpose where one was asked."""
        purpose = {"for": self.typed} if self.typed else {}
        return urlencode({"list": self.list, "boxes": self.boxes, **purpose})

    def asking(self, **fields: str) -> str:
        """Another address of the class with these fields; the purpose asked for goes along."""
        return urlencode(fields | ({"for": self.typed} if self.typed else {}))

    @property
    def purpose(self) -> Purpose:
        """What the paint is for wherever a slot does not say it. Raises UserError."""
        return purpose_typed(self.typed)


def choice_of(holdings: Holdings, address: ClassAddress) -> ClassChoice:
    """The list and boxes an address means; unsaid, the first list and the boxes of its name."""
    lists = holdings.remember(("lists",), lambda: tuple(holdings.store.supply_list_names()))
    sets = tuple(holdings.boxes)
    chosen = address.list if address.list in lists else (lists[0] if lists else "")
    boxes = address.boxes
    if boxes is None or boxes not in sets:
        boxes = chosen if chosen in sets else (sets[0] if sets else "")
    return ClassChoice(chosen, boxes, lists, sets, address.for_.strip())


def supply_of(holdings: Holdings, name: str) -> SupplyList | None:
    """The supply list of a name."""
    return holdings.remember(("supply", name), lambda: holdings.store.supply_list(name))


def workshop_of(holdings: Holdings, choice: ClassChoice) -> Workshop | None:
    """The list, the boxes and all that is known, as the advice takes them; None without a list."""
    return _workshop(holdings, choice.list, choice.boxes, choice.purpose)


def _workshop(holdings: Holdings, name: str, boxes: str, purpose: Purpose) -> Workshop | None:
    def gather() -> Workshop | None:
        supply = supply_of(holdings, name)
        if supply is None:
            return None
        kept = holdings.kept_boxes.get(boxes, ())
        return Workshop(supply, kept, holdings.tubes, holdings.measured, purpose)

    return holdings.remember(("workshop", name, boxes, purpose), gather)


def checked(holdings: Holdings, choice: ClassChoice) -> ClassCheck | Progress:
    """The class check, or how far it has come. The choice must be whole."""
    found: ClassCheck | Progress = holdings.begin(
        check_class, choice.list, choice.boxes, choice.purpose
    )
    return found


def check_class(
    holdings: Holdings, progress: Progress, name: str, boxes: str, purpose: Purpose
) -> ClassCheck:
    """The check itself, which takes its time. Raises UserError."""
    ready()
    workshop = _workshop(holdings, name, boxes, purpose)
    if workshop is None:
        raise UserError("This supply list was taken away; choose another one.")
    return check(workshop, progress.step)
