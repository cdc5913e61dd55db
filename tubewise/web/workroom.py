"""Where long questions are worked out: a few at a time, in processes of their own.

Pages never wait behind them. In processes they also take no share of the interpreter, and give way
to whoever waits for a page; without, as in tests, they run in threads of this process.
"""

from __future__ import annotations

import atexit
import contextlib
from collections.abc import Callable
from dataclasses import dataclass
from threading import Thread
from typing import Any, Final

from tubewise import limits
from tubewise.web.hand import Hand
from tubewise.web.lane import Lane
from tubewise.web.works import ASKER, Asker, Turns, Work

Task = Callable[..., Any]
"""What is worked out: a function of a module, of the holdings, a Progress and its arguments."""

# Who waits for a class must not keep those who mix waiting; what is printed is set in this process.
LANES: Final = {"quick": 2, "long": 2, "press": 1}
_HERE: Final = frozenset({"press"})


@dataclass(frozen=True, eq=False)
class _Errand:
    task: Task
    holdings: Any
    arguments: tuple[Any, ...]
    work: Work
    asker: Asker


class Workroom:
    """Lanes of workers. `url` is the store that processes read; empty for threads."""

    def __init__(self, url: str = "") -> None:
        self._turns = Turns(
            limits.MOST_ASKED_EACH, limits.MOST_ASKED_FROM_ONE_PLACE, limits.MOST_ASKED
        )
        self._queues: dict[str, Lane[_Errand]] = {}
        self._hands: list[Hand] = []
        self._sizes = dict(LANES)
        self._url = url
        if url:
            for lane in LANES:
                self._queue(lane)
            atexit.register(self.close)

    @property
    def has_processes(self) -> bool:
        """Whether questions are worked out in processes of their own."""
        return bool(self._url)

    def ask(self, lane: str, task: Task, holdings: Any, arguments: tuple[Any, ...]) -> Work:
        """Have something worked out. Raises BusyError where too much is waited for."""
        asker = ASKER.get()
        self._turns.enter(asker)
        work = Work()
        errand = _Errand(task, holdings, arguments, work, asker)
        self._queue(lane).put(asker.visitor or asker.address, errand)
        return work

    def close(self) -> None:
        """End the processes."""
        for hand in self._hands:
            hand.end()

    def _queue(self, lane: str) -> Lane[_Errand]:
        """The lane's queue, its workers begun."""
        known = self._queues.get(lane)
        queue = known or self._queues.setdefault(lane, Lane())
        while self._sizes[lane]:
            self._sizes[lane] -= 1
            hand = Hand(self._url) if self._url and lane not in _HERE else None
            if hand is not None:
                self._hands.append(hand)
            Thread(target=self._serve, args=(queue, hand), daemon=True).start()
        return queue

    def _serve(self, queue: Lane[_Errand], hand: Hand | None) -> None:
        if hand is not None:
            # The first to ask need not wait for it. What hinders it is told when somebody asks.
            with contextlib.suppress(OSError):
                hand.begin()
        while True:
            visitor, errand = queue.take()
            try:
                answer = _answer(errand, hand)
            except BaseException as error:
                self._leave(queue, visitor, errand)
                errand.work.fail(error)
            else:
                self._leave(queue, visitor, errand)
                errand.work.finish(answer)
                del answer
            del errand

    def _leave(self, queue: Lane[_Errand], visitor: str, errand: _Errand) -> None:
        self._turns.leave(errand.asker)
        queue.done(visitor)


def _answer(errand: _Errand, hand: Hand | None) -> Any:
    if hand is None:
        return errand.task(errand.holdings, errand.work.progress, *errand.arguments)
    return hand.answer(
        errand.holdings.revision, errand.task, errand.arguments, errand.work.progress
    )
