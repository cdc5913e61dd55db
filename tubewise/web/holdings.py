"""What the store held at one moment, with the advice worked out from it so far."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from functools import cached_property
from threading import Lock, Semaphore, Thread
from typing import TYPE_CHECKING, TypeVar

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


@dataclass
class Progress:
    """How far a long answer has come, and its fault if it had one."""

    done: int = 0
    all: int = 0
    error: Exception | None = None
    finished: bool = False


@dataclass(eq=False)
class Holdings:
    """The store at one `revision`; everything on it is read-only and may be shared by threads."""

    revision: int
    store: Store
    tubes: tuple[Tube, ...]
    kept_boxes: dict[str, list[Box]]
    paints: Paints
    heavy: Semaphore
    long: Semaphore
    _answers: Remembered = field(default_factory=lambda: Remembered(_MOST_ANSWERS))
    _works: dict[Hashable, Progress] = field(default_factory=dict)
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

    def remember_heavy(self, key: Hashable, work: Callable[[], T]) -> T:
        """As `remember`, for what keeps a processor busy: few at a time, so that others get on."""

        def in_turn() -> T:
            with self.heavy:
                return work()

        return self._answers.get(key, in_turn)

    def begin(
        self, key: Hashable, work: Callable[[Progress], T], patience: float = _PATIENCE_S
    ) -> Progress | T:
        """A long answer, or how far it has come; the first to ask starts it in the background.

        They wait for it so many seconds of `patience`. Raises what the work raised.
        """

        def in_turn() -> T:
            # A lane of its own: who waits for a class must not keep those who mix waiting.
            with self.long:
                return work(progress)

        with self._lock:
            known = self._works.get(key)
            start = known is None
            progress = known or self._works.setdefault(key, Progress())
        if start:

            def run(progress: Progress = progress) -> None:
                try:
                    self._answers.get(key, in_turn)
                except Exception as error:
                    progress.error = error
                finally:
                    progress.finished = True

            Thread(target=run, daemon=True).start()
            deadline = time.monotonic() + patience
            while not progress.finished and time.monotonic() < deadline:
                time.sleep(0.01)
        if not progress.finished:
            return progress
        if progress.error is not None:
            with self._lock:
                self._works.pop(key, None)
            raise progress.error
        return self._answers.get(key, in_turn)

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
        known = [p for p in map(self.shelf.tube, self.tubes[:12]) if p is not None]
        if len(known) > 1:
            ready()
            # What was compiled is loaded on its first use, which takes a second or two.
            recipe(of_paint(known[0]), known[1:5], 2, 4)
