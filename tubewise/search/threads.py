"""Work spread over the processors."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from os import cpu_count
from typing import TypeVar

THREADS = min(8, cpu_count() or 1)
T = TypeVar("T")
A = TypeVar("A")

_here = threading.local()


def stay_alone() -> None:
    """From now on this thread does all work itself: other processes have the processors busy."""
    _here.busy = True


def spread(work: Callable[[A], T], chunks: Iterable[A]) -> Iterator[T]:
    """Run a kernel over chunks on all processors; kernels release the interpreter lock.

    Within another `spread` the work is done where it is: the processors are busy already.
    """
    chunks = list(chunks)
    if THREADS == 1 or len(chunks) < 2 or getattr(_here, "busy", False):
        yield from map(work, chunks)
        return

    def marked(chunk: A) -> T:
        _here.busy = True
        return work(chunk)

    with ThreadPoolExecutor(THREADS) as pool:
        yield from pool.map(marked, chunks)
