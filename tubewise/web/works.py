"""Long questions: what is waited for, how far it has come, and how many may be waited for."""

from __future__ import annotations

import time
from collections import Counter as Counts
from collections.abc import Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from threading import Lock
from typing import Any, Final, NamedTuple

from tubewise import limits
from tubewise.web.connections import is_own


class Asker(NamedTuple):
    """Who asks: the visitor by their cookie, and the address they ask from."""

    visitor: str = ""
    address: str = ""


# Set at the door for each request.
NOBODY: Final = Asker()
ASKER: ContextVar[Asker] = ContextVar("asker", default=NOBODY)
# Whether the door asks again by itself once an answer is there; else whoever asks must wait.
COMES_BACK: ContextVar[bool] = ContextVar("comes_back", default=False)


@dataclass
class Progress:
    """How far a long answer has come."""

    done: int = 0
    all: int = 0

    def step(self, done: int, every: int) -> None:
        """So many of all are done."""
        self.done, self.all = done, every


@dataclass(eq=False)
class Work:
    """A question being worked out."""

    progress: Progress = field(default_factory=Progress)
    future: Future[Any] = field(default_factory=Future)
    failed_at: float | None = None

    def finish(self, answer: Any) -> None:
        """The answer, for everyone who waits."""
        self.future.set_result(answer)

    def fail(self, error: BaseException) -> None:
        """The fault, for everyone who waits."""
        self.failed_at = time.monotonic()
        self.future.set_exception(error)


class NotYetError(Exception):
    """The answer is being worked out; the door asks again once `work` is over.

    `seen` is what the store held when it was asked.
    """

    def __init__(self, work: Work, seen: Any) -> None:
        super().__init__("not yet")
        self.work = work
        self.seen = seen


class BusyError(Exception):
    """Too much is being worked out already; the words say for whom."""


class Turns:
    """How much is waited for: by each visitor, from each address and in all."""

    def __init__(self, each: int, from_one_place: int, in_all: int) -> None:
        self._each, self._from_one_place, self._in_all = each, from_one_place, in_all
        self._lock = Lock()
        self._visitors: Counts[str] = Counts()
        self._places: Counts[str] = Counts()
        self._all = 0

    def enter(self, asker: Asker) -> None:
        """Count one more. Raises BusyError where that is too many."""
        visitor = asker.visitor or asker.address
        place = "" if is_own(asker.address) else asker.address
        with self._lock:
            if visitor and self._visitors[visitor] >= self._each:
                raise BusyError("What you asked before is still being worked on; wait until it is.")
            if self._all >= self._in_all or (place and self._places[place] >= self._from_one_place):
                raise BusyError("Many are asking at this moment; try again in half a minute.")
            self._visitors[visitor] += 1
            self._places[place] += 1
            self._all += 1

    def leave(self, asker: Asker) -> None:
        """Count one less."""
        visitor = asker.visitor or asker.address
        place = "" if is_own(asker.address) else asker.address
        with self._lock:
            for counts, key in ((self._visitors, visitor), (self._places, place)):
                counts[key] -= 1
                if counts[key] <= 0:
                    del counts[key]
            self._all -= 1

    @contextmanager
    def taken(self) -> Iterator[None]:
        """Count whoever asks now for as long as this lasts. Raises BusyError."""
        asker = ASKER.get()
        self.enter(asker)
        try:
            yield
        finally:
            self.leave(asker)


FILES = Turns(limits.MOST_ASKED_EACH, limits.MOST_FILES_READ, limits.MOST_FILES_READ)
