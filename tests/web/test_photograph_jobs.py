"""One visitor's photographs don't keep all others waiting."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest

from tubewise import limits
from tubewise.web import photograph_jobs
from tubewise.web.missing import MissingError
from tubewise.web.photograph_jobs import PhotographJobs
from tubewise.web.sent_pictures import MOST_OF_ONE, SentPictures
from tubewise.web.works import BusyError


@pytest.fixture
def reading(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """Reading that goes on until the event is set."""
    finish = threading.Event()

    def wait(*_: object, **__: object) -> tuple[()]:
        finish.wait(20)
        return ()

    monkeypatch.setattr(photograph_jobs, "read_label_photographs", wait)
    yield finish
    finish.set()


def test_a_visitor_waits_for_what_was_sent_before(reading: threading.Event) -> None:
    jobs = PhotographJobs()
    keys = [jobs.start([("a.jpg", b"x")], "one") for _ in range(limits.MOST_ASKED_EACH)]
    with pytest.raises(BusyError, match="still being worked on"):
        jobs.start([("a.jpg", b"x")], "one")
    jobs.start([("a.jpg", b"x")], "another")
    reading.set()
    assert all(jobs.job(key).over.wait(20) for key in keys)
    jobs.start([("a.jpg", b"x")], "one")


def test_a_visitor_pushes_out_only_pictures_of_their_own() -> None:
    sent = SentPictures()
    other = sent.keep(b"other", "another")
    keys = [sent.keep(bytes([n]), "one") for n in range(20)]
    assert sent.picture(other) == b"other"
    assert [sent.picture(key) for key in keys[-MOST_OF_ONE:]] == [b"\x11", b"\x12", b"\x13"]
    with pytest.raises(MissingError):
        sent.picture(keys[0])
