"""Answers kept while they hold: each worked out once, even when many ask at the same moment."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Hashable
from concurrent.futures import Future
from threading import Lock
from typing import Any, TypeVar, cast

from cachetools import LRUCache

T = TypeVar("T")


class Remembered:
    """The newest `most` answers by key. Faults go to everyone who waits, and are not kept."""

    def __init__(self, most: int) -> None:
        self._lock = Lock()
        self._answers: LRUCache[Hashable, Future[Any]] = LRUCache(most)

    def get(self, key: Hashable, work: Callable[[], T]) -> T:
        """The answer of `work` for `key`; whoever asks while it is worked out waits for it."""
        with self._lock:
            known = self._answers.get(key)
            if known is None:
                own: Future[Any] = Future()
                self._answers[key] = own
        if known is not None:
            return cast(T, known.result())
        try:
            answer = work()
        except BaseException as error:
            with self._lock:
                if self._answers.get(key) is own:
                    del self._answers[key]
            own.set_exception(error)
            raise
        own.set_result(answer)
        return answer


class RememberedPages:
    """Whole pages by address, up to so many bytes in all; the longest unread go first."""

    def __init__(self, most_bytes: int) -> None:
        self._lock = Lock()
        self._pages: LRUCache[Hashable, tuple[bytes, Any]] = LRUCache(
            most_bytes, getsizeof=lambda page: len(page[0])
        )

    def get(self, key: Hashable) -> tuple[bytes, Any] | None:
        """The body and what goes with it, or None."""
        with self._lock:
            return self._pages.get(key)

    def keep(self, key: Hashable, body: bytes, more: Any) -> None:
        """Keep a body under its key; one larger than all the room there is isn't kept."""
        with self._lock, contextlib.suppress(ValueError):
            self._pages[key] = (body, more)
