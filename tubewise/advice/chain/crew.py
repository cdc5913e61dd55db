"""Processes that share the work of a run; one that dies is replaced, and its work done again."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from types import TracebackType
from typing import Any, Self, TypeVar

from tubewise.advice.alike.standin_results import StandInWishes
from tubewise.advice.chain import worker
from tubewise.advice.chain.line import Line
from tubewise.advice.chain.worker import Place, Task
from tubewise.colour.arrays import Floats
from tubewise.paints.shelf import Measured
from tubewise.tubes.tube import Tube

_BATCH = 40
_MOST_DEATHS = 3
_In = TypeVar("_In")
_Out = TypeVar("_Out")


class Crew:
    """So many processes, each with all tubes at hand. Use it as a context manager.

    With less work than is worth a second process it is done by one, or here.
    """

    def __init__(
        self, tubes: Sequence[Tube], measured: Mapping[str, Measured], processes: int
    ) -> None:
        self._start = (tuple(tubes), dict(measured))
        self._count = max(1, processes)
        self._hands: list[ProcessPoolExecutor] = []
        self._here: worker.Bench | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for hand in self._hands:
            hand.shutdown(wait=True, cancel_futures=True)

    def points(self, places: Sequence[Place]) -> Iterator[tuple[Place, dict[str, Floats]]]:
        """Where each tube lies in each medium, in any order."""
        here = self._alone(len(places))
        if here is not None:
            yield from zip(places, here.points(places), strict=True)
            return
        yield from self._shared(places, worker.points, ())

    def judged(
        self, tasks: Sequence[Task], wishes: StandInWishes, most: int, date: str
    ) -> Iterator[tuple[Task, list[Line]]]:
        """The lines of each task, in any order."""
        here = self._alone(len(tasks))
        if here is not None:
            for task in tasks:
                yield task, here.judged([task], wishes, most, date)[0]
            return
        yield from self._shared(tasks, worker.judged, (wishes, most, date))

    def _alone(self, work: int) -> worker.Bench | None:
        """The bench in this process, where the work is too little to start others for."""
        if self._hands or (work > 2 * _BATCH and self._count > 1):
            return None
        if self._here is None:
            self._here = worker.Bench(*self._start)
        return self._here

    def _shared(
        self,
        items: Sequence[_In],
        work: Callable[..., list[_Out]],
        rest: tuple[Any, ...],
    ) -> Iterator[tuple[_In, _Out]]:
        """Each item with its result: each hand has its own stretch of them, in batches."""
        while len(self._hands) < self._count:
            self._hands.append(self._hired())
        waiting: dict[Future[list[_Out]], tuple[int, list[_In]]] = {}
        share = -(-len(items) // self._count)
        for number in range(self._count):
            own = items[number * share : (number + 1) * share]
            for at in range(0, len(own), _BATCH):
                batch = list(own[at : at + _BATCH])
                waiting[self._hands[number].submit(work, batch, *rest)] = number, batch
        deaths = 0
        while waiting:
            lost: list[tuple[int, list[_In]]] = []
            for future in as_completed(list(waiting)):
                number, batch = waiting.pop(future)
                try:
                    found = future.result()
                except BrokenProcessPool:
                    lost.append((number, batch))
                    continue
                yield from zip(batch, found, strict=True)
            if not lost:
                continue
            deaths += 1
            if deaths > _MOST_DEATHS:
                raise RuntimeError("the processes that do the work die again and again")
            for number in {number for number, _ in lost}:
                self._hands[number] = self._hired()
            for number, batch in lost:
                waiting[self._hands[number].submit(work, batch, *rest)] = number, batch

    def _hired(self) -> ProcessPoolExecutor:
        # Forked, it would inherit locks that threads of this process hold.
        return ProcessPoolExecutor(
            1, multiprocessing.get_context("spawn"), initializer=worker.start, initargs=self._start
        )
