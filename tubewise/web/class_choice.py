"""Which supply list and which set of boxes an address means, and the advice on them."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from tubewise.advice.classroom.check import ClassCheck, check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.pigments.purpose import Purpose, purpose_typed
from tubewise.search.compiled import ready
from tubewise.tubes.supply import SupplyList
from tubewise.web.holdings import Holdings, Progress
from tubewise.web.questions import ClassAddress


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

    def gather() -> Workshop | None:
        supply = supply_of(holdings, choice.list)
        if supply is None:
            return None
        boxes = holdings.kept_boxes.get(choice.boxes, ())
        return Workshop(supply, boxes, holdings.tubes, holdings.measured, choice.purpose)

    return holdings.remember(("workshop", choice.list, choice.boxes, choice.purpose), gather)


def checked(holdings: Holdings, choice: ClassChoice) -> ClassCheck | Progress:
    """The class check, or how far it has come. The choice must be whole."""

    def work(progress: Progress) -> ClassCheck:
        def step(done: int, every: int) -> None:
            progress.done, progress.all = done, every

        ready()
        workshop = workshop_of(holdings, choice)
        assert workshop is not None
        return check(workshop, step)

    return holdings.begin(("check", choice.list, choice.boxes, choice.purpose), work)
