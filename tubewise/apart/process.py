"""Do work on what strangers send in a process of its own, bounded in memory and time."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from tubewise.errors import UserError
from tubewise.limits import MOST_MEMORY

Progress = Callable[[int, int], None]
# How the libraries say that memory ran out, each in its own way.
_NO_MEMORY = ("bad_alloc", "allocate", "Insufficient memory")


def run_apart(
    task: str,
    question: Mapping[str, Any],
    *,
    seconds: float,
    progress: Progress | None = None,
    memory: int = MOST_MEMORY,
    thing: str = "picture",
    remedy: str = "make it smaller and send it again",
) -> Any:
    """The answer of `task` ("module:function") to `question`, both of JSON's kinds.

    The function takes the question and a `Progress`. It runs in a new Python process that may
    take `memory` bytes of address space and is ended after `seconds`. Raises UserError where the
    task does, or where it takes too much of either; `thing` and `remedy` are its words for that.
    """
    with _started(task) as process:
        late = threading.Event()

        def end() -> None:
            late.set()
            process.kill()

        timer = threading.Timer(seconds, end)
        timer.start()
        try:
            answer = _conversation(process, {"question": question, "memory": memory}, progress)
        finally:
            timer.cancel()
        if answer is None and late.is_set():
            raise UserError(
                f"Reading this {thing} took longer than {seconds:.0f} seconds and was stopped; "
                f"{remedy}."
            )
        stopped = answer is None and process.wait() < 0
    if stopped:
        raise UserError(
            "The reading was stopped before it was done, most often because the machine ran out of "
            f"memory; send the {thing} again, or a smaller one."
        )
    if answer is None or any(word in answer.get("fault", "") for word in _NO_MEMORY):
        raise UserError(f"This {thing} took too much memory; {remedy}.")
    if "error" in answer:
        fault = answer["error"]
        raise UserError(fault["message"], where=fault["where"], problems=fault["problems"])
    if "fault" in answer:
        raise RuntimeError(answer["fault"])
    return answer["answer"]


@contextmanager
def _started(task: str) -> Iterator[subprocess.Popen[str]]:
    # The same folders are searched for modules as here, whatever the working folder is.
    paths = os.pathsep.join(path for path in sys.path if path)
    process = subprocess.Popen(
        [sys.executable, "-m", "tubewise.apart.worker", task],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": paths},
    )
    try:
        yield process
    finally:
        if process.poll() is None:
            process.kill()
        process.communicate()


def _conversation(
    process: subprocess.Popen[str], message: Mapping[str, Any], progress: Progress | None
) -> dict[str, Any] | None:
    """The last message of the process; None where it ended without any."""
    assert process.stdin is not None and process.stdout is not None
    try:
        process.stdin.write(json.dumps(message) + "\n")
        process.stdin.flush()
    except BrokenPipeError:
        return None
    for line in process.stdout:
        if not line.endswith("\n"):  # the process was killed in the middle of a message
            return None
        found: dict[str, Any] = json.loads(line)
        if "done" not in found:
            return found
        if progress is not None:
            progress(found["done"], found["all"])
    return None
