"""Photographs that were sent: read one after the other, outside the request, and soon forgotten."""

from __future__ import annotations

import secrets
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

from tubewise import limits
from tubewise.advice.photographs.labels import PhotographAnswer, read_label_photographs
from tubewise.errors import UserError
from tubewise.labels.photo.read import marked_path
from tubewise.web.missing import MissingError
from tubewise.web.works import ASKER, Asker, Turns


@dataclass
class Job:
    """The photographs somebody sent and how far their reading has come."""

    folder: TemporaryDirectory[str]
    paths: list[Path]
    since: float
    visitor: str = ""
    done: int = 0
    answer: tuple[PhotographAnswer, ...] | None = None
    error: UserError | None = None
    over: threading.Event = field(default_factory=threading.Event)
    kept: list[object] = field(default_factory=list)
    """The forms about it that were carried out."""

    def marked(self, number: int) -> Path:
        """The marked copy of a photograph. Raises MissingError."""
        if not 0 <= number < len(self.paths):
            raise MissingError("There is no such photograph.")
        path = marked_path(Path(self.folder.name), self.paths[number])
        if not path.exists():
            raise MissingError("This photograph is not read yet.")
        return path


class PhotographJobs:
    """All that is being read or waits to be confirmed; the originals are deleted once read."""

    def __init__(self) -> None:
        self._jobs: dict[str, Job] = {}
        self._lock = threading.Lock()
        # One at a time: a reader takes all the processor it gets.
        self._reading = threading.Semaphore(1)
        self._turns = Turns(
            limits.MOST_ASKED_EACH, limits.MOST_PHOTOGRAPH_JOBS, limits.MOST_PHOTOGRAPH_JOBS
        )

    def start(self, files: Sequence[tuple[str, bytes]], visitor: str = "") -> str:
        """Begin to read a visitor's pictures (a name for our disk and the bytes); the job's key.

        Raises BusyError where the visitor, or all of them, have too many waiting.
        """
        with self._lock:
            self._forget()
            asker = Asker(visitor or ASKER.get().visitor, ASKER.get().address)
            self._turns.enter(asker)
            folder = TemporaryDirectory(prefix="tubewise-")
            paths = []
            for number, (name, data) in enumerate(files, 1):
                paths.append(Path(folder.name) / f"{number} {name}")
                paths[-1].write_bytes(data)
            key = secrets.token_urlsafe(16)
            job = self._jobs[key] = Job(folder, paths, time.monotonic(), visitor)
        threading.Thread(target=self._read, args=(job, asker), daemon=True).start()
        return key

    def job(self, key: str) -> Job:
        """The job of a key. Raises MissingError."""
        with self._lock:
            found = self._jobs.get(key)
        if found is None:
            raise MissingError("These photographs are gone; send them again.")
        return found

    def _forget(self) -> None:
        late = time.monotonic() - limits.PHOTOGRAPHS_KEPT_S
        for key in [k for k, j in self._jobs.items() if j.since < late and j.over.is_set()]:
            self._jobs.pop(key).folder.cleanup()
        over = [key for key, job in self._jobs.items() if job.over.is_set()]
        for key in over[: max(0, len(self._jobs) - limits.MOST_PHOTOGRAPH_JOBS + 1)]:
            self._jobs.pop(key).folder.cleanup()

    def _read(self, job: Job, asker: Asker) -> None:
        def progress(done: int, of: int) -> None:
            job.done = done

        try:
            with self._reading:
                job.answer = read_label_photographs(
                    job.paths, marked=Path(job.folder.name), progress=progress
                )
        except UserError as error:
            job.error = error
        except Exception as error:  # the page says it is ours, the log says what
            job.error = UserError(f"A fault of ours stopped the reading: {type(error).__name__}.")
        finally:
            for path in job.paths:
                path.unlink(missing_ok=True)
            self._turns.leave(asker)
            job.over.set()
