"""What one process of several does: opens tubes, and judges stand-ins for them."""

from __future__ import annotations

import os
import pickle  # nosec B403 # between two processes of ours
import sys
import traceback
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from tubewise.advice.alike.compare import PARTNERS, companies
from tubewise.advice.alike.standin import standin
from tubewise.advice.alike.standin_results import StandInWishes
from tubewise.advice.chain.conduct import conduct
from tubewise.advice.chain.hand import send
from tubewise.advice.chain.line import Line, lines_of, nothing
from tubewise.colour.arrays import Floats
from tubewise.errors import UserError
from tubewise.paints.shelf import Measured, Shelf
from tubewise.search.threads import stay_alone
from tubewise.tubes.tube import Tube

# A tube that was opened is some 30 kB; beyond so many the shelf is cleared.
_MOST_OPENED = 12_000


# A tube's id, and the media in which somebody may ask for it.
Place = tuple[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A tube, and those among which its stand-ins are looked for, all by id."""

    tube: str
    among: tuple[str, ...]


class Bench:
    """Tubes by id and the paints that were opened, in one process."""

    def __init__(self, tubes: Sequence[Tube], measured: Mapping[str, Measured]) -> None:
        self._tubes = tuple(tubes)
        self._measured = dict(measured)
        self._opened: set[str] = set()
        self._shelf = Shelf(self._tubes, self._measured)

    def answer(self, question: str, *words: Any) -> list[Any]:
        """The answer to `points` or `judged`, as one is asked from another process."""
        return self.points(*words) if question == "points" else self.judged(*words)

    def points(self, places: Sequence[Place]) -> list[dict[str, Floats]]:
        """Where each tube lies in each medium; nowhere where nothing says what it holds."""
        return [self._points(self._shelf_for((key,)).tubes[key], media) for key, media in places]

    def judged(
        self, tasks: Sequence[Task], wishes: StandInWishes, most: int, date: str
    ) -> list[list[Line]]:
        """The lines of each task, at most so many."""
        return [self._judge(task, wishes, most, date) for task in tasks]

    def _points(self, tube: Tube, media: Sequence[str]) -> dict[str, Floats]:
        paint = self._shelf.tube(tube)
        if paint is None:
            return {}
        found = {}
        for medium in media:
            setting = self._shelf.setting(medium)
            found[medium] = conduct(paint, setting, companies(self._shelf, PARTNERS, setting))
        return found

    def _judge(self, task: Task, wishes: StandInWishes, most: int, date: str) -> list[Line]:
        shelf = self._shelf_for((task.tube, *task.among))
        tube = shelf.tubes[task.tube]
        wishes = replace(wishes, drawn=False)
        try:
            among = [shelf.tubes[key] for key in task.among]
            return lines_of(tube, standin(tube, among, shelf, most=most, wishes=wishes), date)
        except UserError as error:
            return [nothing(tube, error.message, date)]

    def _shelf_for(self, ids: Sequence[str]) -> Shelf:
        self._opened.update(ids)
        if len(self._opened) > _MOST_OPENED:
            self._shelf = Shelf(self._tubes, self._measured)
            self._opened = set(ids)
        return self._shelf


def serve() -> None:
    """Answer one question after another from standard input, until it ends."""
    answers = os.fdopen(os.dup(1), "wb")
    # Whatever prints must not come between the answers.
    os.dup2(2, 1)
    stay_alone()
    try:
        bench = Bench(*pickle.load(sys.stdin.buffer))  # nosec B301 # from a process of ours
        while True:
            question, words = pickle.load(sys.stdin.buffer)  # nosec B301 # from a process of ours
            try:
                answer: tuple[bool, Any] = True, bench.answer(question, *words)
            except Exception:
                answer = False, traceback.format_exc()
            send(answers, answer)
    except (EOFError, BrokenPipeError, KeyboardInterrupt):
        return
