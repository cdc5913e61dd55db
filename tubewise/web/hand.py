"""A process that works out questions on a store, one after the other, and may be ended.

What goes back and forth are our own values, pickled, between two processes of ours: no stranger's
file is opened there but pictures, whose pixels alone are looked at.
"""

from __future__ import annotations

import os
import pickle  # nosec B403 # between two processes of ours
import subprocess
import sys
import threading
from collections.abc import Callable
from typing import IO, Any

from tubewise import limits
from tubewise.errors import UserError
from tubewise.web.works import Progress


class Hand:
    """The process, seen from the server; begun again after it was ended."""

    def __init__(self, url: str) -> None:
        self._url = url
        self._process: subprocess.Popen[bytes] | None = None
        self._over = False

    def begin(self) -> subprocess.Popen[bytes]:
        """The process, begun where it does not run. Raises OSError."""
        process = self._process
        if process is not None and process.poll() is None:
            return process
        if process is not None:
            process.communicate()
        if self._over:
            raise OSError("the server is going away")
        paths = os.pathsep.join(path for path in sys.path if path)
        process = self._process = subprocess.Popen(
            [sys.executable, "-m", "tubewise.web.handwork"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": paths},
        )
        # The address of a store may hold a password, which the list of processes would show.
        _send(process.stdin, self._url)
        return process

    def end(self) -> None:
        """End the process for good."""
        self._over = True
        if self._process is not None and self._process.poll() is None:
            self._process.kill()

    def answer(
        self,
        revision: int,
        task: Callable[..., Any],
        arguments: tuple[Any, ...],
        progress: Progress,
    ) -> Any:
        """The answer of a task on the store.

        Raises UserError where the task does, or takes too long, and RuntimeError for its faults.
        """
        process = self.begin()
        late = threading.Event()

        def end() -> None:
            late.set()
            process.kill()

        timer = threading.Timer(limits.ANSWER_SECONDS, end)
        timer.start()
        try:
            _send(process.stdin, (revision, task, arguments))
            kind, found = _received(process.stdout)
            while kind == "progress":
                progress.step(*found)
                kind, found = _received(process.stdout)
        except (EOFError, OSError, pickle.UnpicklingError):
            process.kill()
            process.wait()
            if late.is_set():
                raise UserError(
                    f"This took longer than {limits.ANSWER_SECONDS:.0f} seconds and was stopped; "
                    "ask for less at once."
                ) from None
            raise UserError(
                "The work was stopped before it was done, most often because the machine ran out "
                "of memory; ask again, or for less at once."
            ) from None
        finally:
            timer.cancel()
        if kind == "refused":
            message, where, problems = found
            raise UserError(message, where=where, problems=problems)
        if kind == "fault":
            raise RuntimeError(found)
        return found


def _send(pipe: IO[bytes] | None, message: Any) -> None:
    assert pipe is not None
    pickle.dump(message, pipe, pickle.HIGHEST_PROTOCOL)
    pipe.flush()


def _received(pipe: IO[bytes] | None) -> tuple[str, Any]:
    assert pipe is not None
    kind, found = pickle.load(pipe)  # nosec B301 # from a process of ours
    return str(kind), found
