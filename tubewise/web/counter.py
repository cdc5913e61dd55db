"""The counter: where every page asks for what the store holds now."""

from __future__ import annotations

import time
from collections.abc import Callable
from threading import Lock, Semaphore, Thread
from typing import TypeVar

import sqlalchemy as sa

from tubewise.tubes.store import Store
from tubewise.tubes.tables import REVISION
from tubewise.web.holdings import Holdings

T = TypeVar("T")

# Another program may write to the store too; so often we look.
_LOOK_EVERY_S = 0.5


class Counter:
    """Where pages come to ask: always the holdings of the store as it stands now."""

    def __init__(self, store: Store, warm: bool = False) -> None:
        self.store = store
        self._warm = warm
        self._lock = Lock()
        self._looked = 0.0
        self._writing = Lock()
        self._heavy = Semaphore(1)
        self._now: Holdings | None = None

    def holdings(self) -> Holdings:
        """The store's present content; read again only after a change."""
        now = self._now
        if now is not None and time.monotonic() - self._looked < _LOOK_EVERY_S:
            return now
        with self._lock:
            revision = _revision(self.store)
            if self._now is None or self._now.revision != revision:
                self._now = self._read(revision)
            self._looked = time.monotonic()
            return self._now

    @property
    def revision(self) -> int | None:
        """The revision if it was looked at a moment ago, else None. Never waits."""
        now = self._now
        if now is None or time.monotonic() - self._looked >= _LOOK_EVERY_S:
            return None
        return now.revision

    def change(self, work: Callable[[Store], T]) -> T:
        """Write to the store, one at a time; whoever asks next sees it."""
        with self._writing:
            try:
                return work(self.store)
            finally:
                self._looked = 0.0

    def _read(self, revision: int) -> Holdings:
        from tubewise.measure.attach import measured_optics

        held = Holdings(
            revision,
            self.store,
            tuple(self.store.catalogue()),
            measured_optics(self.store),
            self._heavy,
        )
        if self._warm:
            Thread(target=held.warm, daemon=True).start()
        return held


def _revision(store: Store) -> int:
    with store._reads() as connection:
        return int(connection.execute(sa.select(REVISION.c.number)).scalar_one())
