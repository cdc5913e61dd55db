"""Processes that share the work of a run; one that dies is replaced, and its work done again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from queue import SimpleQueue
from threading import Thread
from types import TracebackType
from typing import Any, Self, TypeVar

from tubewise.advice.alike.standin_results import StandInWishes
from tubewise.advice.chain.hand import Hand, HandDiedError
from tubewise.advice.chain.line import Line
from tubewise.advice.chain.worker import Bench, Place, Task
from tubewise.colour.arrays import Floats
from tubewise.paints.shelf import Measured
from tubewise.tubes.tube import Tube

_BATCH = 20
# Work of fewer items is done here sooner than a process has started.
_WORTH_A_HAND = 60
_MOST_DEATHS = 3
_In = TypeVar("_In")


class Crew:
    """So many processes, each with all tubes at hand. Use it as a context manager.

    What is too little to start any for is done here.
    """

    def __init__(
        self, tubes: Sequence[Tube], measured: Mapping[str, Measured], processes: int
    ) -> None:
        self._start = (tuple(tubes), dict(measured))
        self._count = max(1, processes)
        self.hands: list[Hand] = []
        self._here: Bench | None = None
        self._closed = False

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._closed = True
        for hand in self.hands:
            hand.dismiss()

    def points(self, places: Sequence[Place]) -> Iterator[tuple[Place, dict[str, Floats]]]:
        """Where each tube lies in each medium, in any order."""
        return self._shared("points", places)

    def judged(
        self, tasks: Sequence[Task], wishes: StandInWishes, most: int, date: str
    ) -> Iterator[tuple[Task, list[Line]]]:
        """The lines of each task, in any order."""
        return self._shared("judged", tasks, wishes, most, date)

    def _shared(
        self, question: str, items: Sequence[_In], *words: Any
    ) -> Iterator[tuple[_In, Any]]:
        """Each item with its result: each hand has its own stretch of them, in batches."""
        if not self.hands and (len(items) < _WORTH_A_HAND or self._count == 1):
            self._here = self._here or Bench(*self._start)
            for item in items:
                yield item, self._here.answer(question, [item], *words)[0]
            return
        while len(self.hands) < self._count:
            self.hands.append(Hand(*self._start))
        done: SimpleQueue[tuple[list[_In], Any]] = SimpleQueue()
        share = -(-len(items) // self._count)
        for number in range(self._count):
            own = list(items[number * share : (number + 1) * share])
            Thread(
                target=self._stretch, args=(number, question, own, words, done), daemon=True
            ).start()
        left = len(items)
        while left:
            batch, found = done.get()
            if isinstance(found, BaseException):
                raise found
            yield from zip(batch, found, strict=True)
            left -= len(batch)

    def _stretch(
        self,
        number: int,
        question: str,
        items: list[_In],
        words: tuple[Any, ...],
        done: SimpleQueue[tuple[list[_In], Any]],
    ) -> None:
        """Have one hand do its stretch; what it dies over another one does."""
        for at in range(0, len(items), _BATCH):
            batch = items[at : at + _BATCH]
            deaths = 0
            while not self._closed:
                try:
                    done.put((batch, self.hands[number].ask(question, batch, *words)))
                    break
                except HandDiedError:
                    deaths += 1
                    if deaths == _MOST_DEATHS:
                        fault = RuntimeError("the processes that compare tubes die again and again")
                        done.put((batch, fault))
                        return
                    if not self._closed:
                        self.hands[number].dismiss()
                        self.hands[number] = Hand(*self._start)
                except Exception as error:
                    done.put((batch, error))
                    return
