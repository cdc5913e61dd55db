"""Answers kept while they hold: each worked out once, even when many ask at the same moment."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future
from threading import Lock
from typing import Any, TypeVar, cast

T = TypeVar("T")


class Remembered:
    """The newest `most` answers by key. Faults are told to everyone waiting and not kept."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = Lock()
        self._answers: OrderedDict[Hashable, Future[Any]] = OrderedDict()

    def get(self, key: Hashable, work: Callable[[], T]) -> T:
        """The answer of `work` for `key`; whoever asks while it is worked out waits for it."""
        with self._lock:
            known = self._answers.get(key)
            if known is not None:
                self._answers.move_to_end(key)
            else:
                mine: Future[Any] = Future()
                self._answers[key] = mine
                while len(self._answers) > self._most:
                    self._answers.popitem(last=False)
        if known is not None:
            return cast(T, known.result())
        try:
            answer = work()
        except BaseException as error:
            with self._lock:
                if self._answers.get(key) is mine:
                    del self._answers[key]
            mine.set_exception(error)
            raise
        mine.set_result(answer)
        return answer


class RememberedPages:
    """Whole pages by address, up to so many bytes in all; the longest unread go first."""

    def __init__(self, most_bytes: int) -> None:
        self._most = most_bytes
        self._lock = Lock()
        self._size = 0
        self._pages: OrderedDict[Hashable, tuple[bytes, Any]] = OrderedDict()

    def get(self, key: Hashable) -> tuple[bytes, Any] | None:
        """The body and what goes with it, or None."""
        with self._lock:
            found = self._pages.get(key)
            if found is not None:
                self._pages.move_to_end(key)
            return found

    def keep(self, key: Hashable, body: bytes, more: Any) -> None:
        """Keep a body under its key."""
        with self._lock:
            old = self._pages.pop(key, None)
            self._size += len(body) - (len(old[0]) if old else 0)
            self._pages[key] = (body, more)
            while self._size > self._most and self._pages:
                _, (gone, _) = self._pages.popitem(last=False)
                self._size -= len(gone)
