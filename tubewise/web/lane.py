"""A queue of work in which no visitor has more than one of the workers."""

from __future__ import annotations

from collections import deque
from threading import Condition
from typing import Generic, TypeVar

T = TypeVar("T")


class Lane(Generic[T]):
    """Work by whom it is for; first come, first served, but each visitor one at a time.

    So somebody with three long questions keeps one worker, and the next visitor finds another.
    """

    def __init__(self) -> None:
        self._waiting: deque[tuple[str, T]] = deque()
        self._served: set[str] = set()
        self._changed = Condition()

    def put(self, visitor: str, work: T) -> None:
        """Add work for a visitor; "" is nobody in particular, who is served like many."""
        with self._changed:
            self._waiting.append((visitor, work))
            self._changed.notify_all()

    def take(self) -> tuple[str, T]:
        """The next work, waited for, and whose it is; `done` must follow."""
        with self._changed:
            while True:
                for place, (visitor, work) in enumerate(self._waiting):
                    if not visitor or visitor not in self._served:
                        del self._waiting[place]
                        self._served.add(visitor)
                        return visitor, work
                self._changed.wait()

    def done(self, visitor: str) -> None:
        """The visitor's work is done, and their next may be taken."""
        with self._changed:
            self._served.discard(visitor)
            self._changed.notify_all()
