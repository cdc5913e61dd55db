"""A process of its own that keeps its tubes from question to question.

Started by its command and not by `multiprocessing`, which would run the caller's main module again.
"""

from __future__ import annotations

import os
import pickle  # nosec B403 # between two processes of ours
import subprocess
import sys
from collections.abc import Mapping, Sequence
from typing import Any, BinaryIO

from tubewise.paints.shelf import Measured
from tubewise.tubes.tube import Tube

_COMMAND = "from tubewise.advice.chain.worker import serve; serve()"
# The processors are divided among hands already.
_ALONE = {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}


class HandDiedError(Exception):
    """The process ended before it answered."""


class Hand:
    """One such process, with all tubes at hand."""

    def __init__(self, tubes: Sequence[Tube], measured: Mapping[str, Measured]) -> None:
        path = os.pathsep.join(place for place in sys.path if place)
        self._process = subprocess.Popen(
            [sys.executable, "-c", _COMMAND],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env=os.environ | _ALONE | {"PYTHONPATH": path},
        )
        self._send((tuple(tubes), dict(measured)))

    @property
    def pid(self) -> int:
        """The process's number."""
        return self._process.pid

    def ask(self, question: str, *words: Any) -> Any:
        """Its answer. Raises HandDiedError, or RuntimeError where the work itself failed."""
        self._send((question, words))
        try:
            assert self._process.stdout is not None
            good, answer = pickle.load(self._process.stdout)  # nosec B301 # from a process of ours
        except (EOFError, OSError, pickle.UnpicklingError):
            raise HandDiedError from None
        if not good:
            raise RuntimeError(answer)
        return answer

    def dismiss(self) -> None:
        """End the process, at work or not."""
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                try:
                    pipe.close()
                except OSError:
                    # What was to be sent is of no use any more.
                    continue

    def _send(self, message: Any) -> None:
        assert self._process.stdin is not None
        try:
            send(self._process.stdin, message)
        except OSError:
            raise HandDiedError from None


def send(pipe: BinaryIO | Any, message: Any) -> None:
    """One message into a pipe."""
    pickle.dump(message, pipe, protocol=pickle.HIGHEST_PROTOCOL)
    pipe.flush()
