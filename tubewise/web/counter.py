"""The counter: where every page asks for what the store holds now."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextvars import ContextVar
from threading import Lock, Thread
from typing import TypeVar

from tubewise.search.compiled import ready
from tubewise.store.revision import current
from tubewise.store.store import Store
from tubewise.web.holdings import Holdings
from tubewise.web.paints import Paints
from tubewise.web.workroom import Workroom

T = TypeVar("T")

# Another program may write to the store too; so often we look.
_LOOK_EVERY_S = 0.5
# What a request saw that waited for its answer, and goes on with, whatever was written meanwhile.
SEEN: ContextVar[Holdings | None] = ContextVar("seen", default=None)


class Counter:
    """Where pages come to ask: always the holdings of the store as it stands now."""

    def __init__(self, store: Store, warm: bool = False, workroom: Workroom | None = None) -> None:
        """`warm` compiles the recipe search and paints every tube ahead of being asked."""
        self.store = store
        self._warm = warm
        self._lock = Lock()
        self._looked = float("-inf")
        # How often this server wrote, and how often it had when what is held now was read.
        self._writes = self._writes_read = 0
        self._writing = Lock()
        self.workroom = workroom or Workroom()
        self._now: Holdings | None = None
        self._compiling = Thread(target=ready, daemon=True) if warm else None
        if self._compiling is not None:
            self._compiling.start()

    @property
    def is_compiling(self) -> bool:
        """Whether the recipe search is being compiled ahead; pages without it answer meanwhile."""
        return self._compiling is not None and self._compiling.is_alive()

    def holdings(self) -> Holdings:
        """The store's present content; read again only after a change."""
        seen = SEEN.get()
        if seen is not None:
            return seen
        now = self._now
        if now is not None and not self._is_old and not self.due:
            return now
        with self._lock:
            if self._now is not None and not self._is_old and not self.due:
                return self._now
            # Whoever writes while we read is noticed, and until all is read nobody is given what
            # was before: who wrote reads their own write.
            writes = self._writes
            self._looked = time.monotonic()
            revision = _revision(self.store)
            if self._now is None or self._now.revision != revision:
                self._now = self._read(revision)
            self._writes_read = writes
            return self._now

    def holdings_at(self, revision: int) -> Holdings:
        """The store's content, looked at again unless what is known is of that revision."""
        if self._now is None or self._now.revision != revision:
            self._looked = float("-inf")
        return self.holdings()

    @property
    def _is_old(self) -> bool:
        """Whether this server has written since what it holds was read."""
        return self._writes != self._writes_read

    @property
    def due(self) -> bool:
        """Whether it is time to look if another program has written to the store."""
        return time.monotonic() - self._looked >= _LOOK_EVERY_S

    @property
    def revision(self) -> int | None:
        """The revision as last seen, or None where one must look first. Never waits."""
        now = self._now
        return None if now is None or self._is_old else now.revision

    def change(self, work: Callable[[Store], T]) -> T:
        """Write to the store, one at a time; whoever asks next sees it."""
        with self._writing:
            try:
                return work(self.store)
            finally:
                self._writes += 1

    def _read(self, revision: int) -> Holdings:
        from tubewise.measure.attach import measured_optics

        before = self._now
        tubes = tuple(self.store.catalogue())
        measured = measured_optics(self.store)
        paints = before.paints.for_now(measured) if before else Paints(measured)
        boxes = {name: self.store.boxes(name) for name in self.store.box_names()}
        holdings = Holdings(revision, self.store, tubes, boxes, paints, self.workroom)
        if self._warm and (before is None or before.tubes != tubes):
            Thread(target=holdings.warm, daemon=True).start()
        return holdings


def _revision(store: Store) -> int:
    with store._reads() as connection:
        return current(connection)
