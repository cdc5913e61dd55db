"""What the store held at one moment, with the advice worked out from it so far."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Hashable
from concurrent.futures import wait
from dataclasses import dataclass, field
from functools import cached_property
from threading import Lock
from typing import TYPE_CHECKING, Any, TypeVar, cast

from cachetools import LRUCache

from tubewise.advice.counter.finding import Search, find
from tubewise.advice.counter.look import Look, look
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.target import of_paint
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import Strip, strip
from tubewise.search.compiled import ready
from tubewise.tubes.box_lines import BoxRead, BoxReader
from tubewise.tubes.tube import Box, Tube
from tubewise.web.paints import PaintedShelf, Paints
from tubewise.web.remembered import Remembered
from tubewise.web.workroom import Task, Workroom
from tubewise.web.works import COMES_BACK, NotYetError, Work

if TYPE_CHECKING:
    from tubewise.measure.measured import MeasuredOptics
    from tubewise.paints.paint import Paint
    from tubewise.store.store import Store

T = TypeVar("T")

_MOST_ANSWERS = 4_000
# More tubes than this are not painted ahead of being asked for.
_WARM_AT_MOST = 1_500
# What takes no longer than this needs no page of its own to wait on.
_PATIENCE_S = 0.15
_FAULT_KEPT_S = 5.0


@dataclass(eq=False)
class Holdings:
    """The store at one `revision`; everything on it is read-only and may be shared by threads."""

    revision: int
    store: Store
    tubes: tuple[Tube, ...]
    kept_boxes: dict[str, list[Box]]
    paints: Paints
    workroom: Workroom
    _answers: Remembered = field(default_factory=lambda: Remembered(_MOST_ANSWERS))
    _works: LRUCache[Hashable, Work] = field(default_factory=lambda: LRUCache(_MOST_ANSWERS))
    _lock: Lock = field(default_factory=Lock)

    @property
    def measured(self) -> dict[str, MeasuredOptics]:
        """Measured optics in use, by tube id."""
        return self.paints.measured

    @cached_property
    def by_id(self) -> dict[str, Tube]:
        """Catalogue tubes by id."""
        return {tube.id: tube for tube in self.tubes}

    @cached_property
    def box_reader(self) -> BoxReader:
        """What understands people's boxes with the help of the catalogue."""
        return BoxReader(self.tubes)

    @cached_property
    def boxes_read(self) -> dict[str, tuple[BoxRead, ...]]:
        """Boxes by the name of their set, as they were understood line by line."""
        return {name: self.box_reader.boxes(boxes) for name, boxes in self.kept_boxes.items()}

    @cached_property
    def boxes(self) -> dict[str, tuple[Box, ...]]:
        """Boxes by the name of their set, their rows completed from the catalogue."""
        return {name: tuple(r.box for r in read) for name, read in self.boxes_read.items()}

    @cached_property
    def shelf(self) -> Shelf:
        """Every tube's paint: the catalogue's and, where it does not know them, the boxes'."""
        owned = (t for boxes in self.boxes.values() for box in boxes for t in box.tubes)
        return PaintedShelf((*owned, *self.tubes), self.paints)

    @cached_property
    def by_paint(self) -> dict[tuple[str, ...], list[Tube]]:
        """Catalogue tubes by their declared pigments, in any order."""
        found: dict[tuple[str, ...], list[Tube]] = defaultdict(list)
        for tube in self.tubes:
            if tube.refs:
                found[tuple(sorted(tube.refs))].append(tube)
        return found

    @cached_property
    def makers(self) -> tuple[str, ...]:
        """The makers, in alphabetical order."""
        return tuple(sorted({t.maker for t in self.tubes if t.maker}, key=str.casefold))

    @cached_property
    def media(self) -> tuple[str, ...]:
        """The media, in alphabetical order."""
        return tuple(sorted({t.medium for t in self.tubes if t.medium}))

    def tube(self, tube_id: str) -> Tube | None:
        """A tube of the catalogue, or else of a box."""
        return self.by_id.get(tube_id) or self.shelf.tubes.get(tube_id)

    def remember(self, key: Hashable, work: Callable[[], T]) -> T:
        """The answer for `key`, worked out once."""
        return self._answers.get(key, work)

    def worked_out(self, task: Task, *arguments: Hashable) -> Any:
        """A task's answer to its arguments, worked out once for all who ask.

        Where the door asks again by itself, raises NotYetError instead of waiting, so that nobody
        keeps a thread; BusyError where too much is waited for; and whatever the task raises.
        """
        return self._awaited(self._work((task, *arguments), "quick", task, arguments)[0])

    def set(self, key: Hashable, press: Callable[[], T]) -> T:
        """As `worked_out`, for a sheet that is set in type here, one at a time."""
        work, _ = self._work(key, "press", lambda *_: press(), ())
        return cast(T, self._awaited(work))

    def _awaited(self, work: Work) -> Any:
        if not work.future.done() and COMES_BACK.get():
            raise NotYetError(work, self)
        return work.future.result()

    def begin(
        self,
        task: Task,
        *arguments: Any,
        key: Hashable = None,
        lane: str = "long",
        patience: float = _PATIENCE_S,
    ) -> Any:
        """A task's answer, or a Progress: how far it has come; the first to ask starts it.

        They wait for it so many seconds of `patience`. `key` stands for arguments too large to be
        kept. Raises BusyError where too much is waited for, and whatever the task raises.
        """
        key = key or (task, *arguments)
        work, is_new = self._work(key, lane, task, arguments)
        if is_new:
            wait([work.future], patience)
        if work.failed_at is not None:
            # Whoever is told of the fault may try again at once.
            with self._lock:
                self._works.pop(key, None)
        return work.future.result() if work.future.done() else work.progress

    def _work(
        self, key: Hashable, lane: str, task: Task, arguments: tuple[Any, ...]
    ) -> tuple[Work, bool]:
        """The work on a key, and whether it was begun just now."""
        with self._lock:
            known = self._works.get(key)
            if known is not None and not _is_stale(known):
                return known, False
            work = self._works[key] = self.workroom.ask(lane, task, self, arguments)
            return work, True

    def seen(self, tube: Tube) -> Look:
        """How a tube looks, worked out once."""
        return self.paints.looks.get(tube, lambda: look(tube, self.shelf))

    def found(self, search: Search) -> tuple[Tube, ...]:
        """The tubes that meet all that is asked, found once. Raises UserError for no pigment."""
        return self.remember(
            ("find", search), lambda: find(search, self.store, lambda t: self.seen(t).colour)
        )

    def strip_of(self, paint: Paint) -> Strip:
        """The strip of any paint, a pigment's too."""
        return self.paints.looks.get(
            (paint.name, paint.tube), lambda: strip(paint, self.shelf.setting_for(paint))
        )

    def warm(self) -> None:
        """Paint every tube once, and mix once, so that the first reader need not wait."""
        for tube in self.tubes[:_WARM_AT_MOST]:
            self.seen(tube)
        if not self.workroom.has_processes:
            self.warm_search()

    def warm_search(self) -> None:
        """Mix once: what was compiled is loaded on its first use, which takes a second or two."""
        known = [p for p in map(self.shelf.tube, self.tubes[:12]) if p is not None]
        if len(known) > 1:
            ready()
            recipe(of_paint(known[0]), known[1:5], 2, 4)


def _is_stale(work: Work) -> bool:
    """Whether it failed a while ago; until then its fault goes to all who waited for it."""
    return work.failed_at is not None and time.monotonic() - work.failed_at > _FAULT_KEPT_S
