"""Writers killed at random moments; `python -m tools.kills` does it for as long as one likes."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tools.kills import TUBES, kill_migrations, kill_restores, kill_writers, work
from tubewise.store.database import sqlite_url
from tubewise.store.store import Store

KILLS = 8


@pytest.fixture
def count() -> Counter[str]:
    return Counter()


def confirmed(count: Counter[str]) -> int:
    return sum(number for kind, number in count.items() if kind.endswith(", confirmed"))


def few_kills(count: Counter[str]) -> bool:
    return sum(count.values()) < KILLS


@pytest.mark.slow
def test_what_was_confirmed_is_there_and_nothing_is_half_done(
    tmp_path: Path, count: Counter[str]
) -> None:
    url, reference = (sqlite_url(tmp_path / name) for name in ("a.sqlite3", "b.sqlite3"))
    kill_writers(
        url, reference, lambda c: c["kills of writers"] < KILLS or confirmed(c) < 10, count
    )
    assert count["kills of writers"] >= KILLS


@pytest.mark.slow
def test_tables_are_as_before_or_as_after(tmp_path: Path, count: Counter[str]) -> None:
    kill_migrations(tmp_path, few_kills, count)
    assert all(kind.startswith("migrations killed") for kind in count)


@pytest.mark.slow
def test_a_restore_is_done_or_not(tmp_path: Path, count: Counter[str]) -> None:
    kill_restores(tmp_path, few_kills, count)
    assert all(kind.startswith("restores killed") for kind in count)


@pytest.mark.slow
def test_a_write_that_was_lost_is_noticed(tmp_path: Path, count: Counter[str]) -> None:
    """The second store was given a write more than the first: that is a loss."""
    url, reference = (sqlite_url(tmp_path / name) for name in ("a.sqlite3", "b.sqlite3"))
    with Store(reference) as second:
        second.add_measurement(TUBES[0].id, raw={"R": [0]}, fit={})
    with pytest.raises(AssertionError, match="half done or lost"):
        kill_writers(url, reference, few_kills, count)


def test_the_same_number_is_the_same_write(tmp_path: Path) -> None:
    with Store(tmp_path / "a.sqlite3") as one_store, Store(tmp_path / "b.sqlite3") as other:
        for number in range(12):
            for store in (one_store, other):
                work(number)[1](store)
        assert one_store.catalogue() == other.catalogue()
        assert one_store.boxes() == other.boxes()
