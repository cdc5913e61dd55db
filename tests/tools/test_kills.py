"""Writers killed at random moments; `python -m tools.kills` does it for as long as one likes."""

from __future__ import annotations

import time
from collections import Counter
from pathlib import Path

import pytest

from tools.kills import TUBES, kill_migrations, kill_restores, kill_writers, work
from tubewise.store.database import sqlite_url
from tubewise.store.store import Store

SECONDS = 4.0


@pytest.fixture
def count() -> Counter[str]:
    return Counter()


@pytest.mark.slow
def test_what_was_confirmed_is_there_and_nothing_is_half_done(
    tmp_path: Path, count: Counter[str]
) -> None:
    url, reference = (sqlite_url(tmp_path / name) for name in ("a.sqlite3", "b.sqlite3"))
    kill_writers(url, reference, time.monotonic() + SECONDS, count)
    assert count["kills of writers"] >= 5
    assert sum(number for kind, number in count.items() if kind.endswith(", confirmed")) >= 10


@pytest.mark.slow
def test_tables_are_as_before_or_as_after(tmp_path: Path, count: Counter[str]) -> None:
    kill_migrations(tmp_path, time.monotonic() + SECONDS, count)
    assert sum(count.values()) >= 5


@pytest.mark.slow
def test_a_restore_is_done_or_not(tmp_path: Path, count: Counter[str]) -> None:
    kill_restores(tmp_path, time.monotonic() + SECONDS, count)
    assert sum(count.values()) >= 5


@pytest.mark.slow
def test_a_write_that_was_lost_is_noticed(tmp_path: Path, count: Counter[str]) -> None:
    """The second store was given a write more than the first: that is a loss."""
    url, reference = (sqlite_url(tmp_path / name) for name in ("a.sqlite3", "b.sqlite3"))
    with Store(reference) as second:
        second.import_catalogue(TUBES)
        # Nothing that follows measures this one.
        second.add_measurement("elsewhere", raw={}, fit={})
        second.add_measurement(TUBES[0].id, raw={"R": [0]}, fit={})
    with pytest.raises(AssertionError, match="half done or lost"):
        kill_writers(url, reference, time.monotonic() + SECONDS, count)


def test_the_same_number_is_the_same_write(tmp_path: Path) -> None:
    with Store(tmp_path / "a.sqlite3") as one_store, Store(tmp_path / "b.sqlite3") as other:
        for number in range(12):
            for store in (one_store, other):
                work(number)[1](store)
        assert one_store.catalogue() == other.catalogue()
        assert one_store.boxes() == other.boxes()
