"""Writers of the store killed at random moments: nothing confirmed is lost, nothing is half done.

`python -m tools.kills --minutes 10` forks writers that import, measure, edit boxes, undo and bring
old stores up to date, says SIGKILL to each at a random moment, and compares what the store then
holds with a second store that was given what the writer had confirmed. `--url` names an empty
PostgreSQL database to try instead of a SQLite file; migrations and restores are tried on SQLite.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from functools import partial
from pathlib import Path
from typing import Any

from tubewise.store.backups import back_up, backups_of
from tubewise.store.database import sqlite_url
from tubewise.store.health import examine
from tubewise.store.restoring import restore
from tubewise.store.store import Store
from tubewise.tubes.tube import Box, Tube

TUBES = [
    Tube(maker="Ostrel", line="Fen", name=f"Paint {n}", label="PB29 PW6", price=1.0)
    for n in range(60)
]
MOST_SECONDS = 0.12
Work = Callable[[Store], object]
# Whether to go on, by what was counted so far.
More = Callable[[Counter[str]], bool]


def work(number: int) -> tuple[str, Work]:
    """The write of a number, the same whenever it is asked for, and its kind."""
    rng = random.Random(number)
    kind = rng.choice(("import", "measure", "box", "undo a tube", "undo a box", "undo a measure"))
    tube = rng.choice(TUBES)
    seat = str(rng.randrange(4))
    if kind == "import":
        some = rng.sample(TUBES, rng.randrange(1, len(TUBES)))
        tubes = [
            Tube(maker=t.maker, line=t.line, name=t.name, label=t.label, price=float(number))
            for t in some
        ]
        return kind, lambda store: store.import_catalogue(tubes)
    if kind == "measure":
        raw = {"R": [number, *(rng.random() for _ in range(200))]}
        return kind, lambda store: store.add_measurement(tube.id, raw=raw, fit={"K": number})
    if kind == "box":
        box = Box(seat, tuple(rng.sample(TUBES, rng.randrange(1, 20))))
        return kind, lambda store: store.import_boxes([box])
    back = rng.random() < 0.5
    if kind == "undo a tube":
        return kind, lambda store: (store.restore_tube if back else store.delete_tube)(tube.id)
    if kind == "undo a box":
        return kind, lambda store: (store.restore_box if back else store.delete_box)(seat)
    return kind, lambda store: (store.reinstate if back else store.withdraw)(tube.id, 1)


def contents(store: Store) -> Any:
    """All that a reader can see, and that a search finds what is there."""
    catalogue = store.catalogue()
    found = store.find(code="PB29", limit=1_000)
    return (
        sorted(catalogue, key=lambda tube: tube.id),
        sorted(tube.id for tube in found.tubes),
        sorted(store.boxes(), key=lambda box: box.seat),
        [store.measurements(tube.id) for tube in TUBES],
    )


def killed(task: Callable[[int], None], seconds: float) -> int:
    """Run `task` in a child and kill it so long after it was ready; how many writes it confirmed.

    The task writes one byte when it is ready, and one for each write that is confirmed.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        task(writing)
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb", buffering=0) as file:
        file.read(1)
        time.sleep(seconds)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return len(file.read())


def _write_on(url: str, first: int, confirm: int) -> None:
    with Store(url) as store:
        os.write(confirm, b".")
        for number in range(first, first + 100_000):
            work(number)[1](store)
            os.write(confirm, b".")


def kill_writers(url: str, reference: str, more: More, count: Counter[str]) -> None:
    """Kill writers as long as wanted. Raises AssertionError where anything is lost or half done."""
    rng = random.Random(7)
    done = 0
    Store(url).close()
    while more(count):
        done += _kill_one(url, reference, done, rng.uniform(0.02, MOST_SECONDS), count)
    health = examine(url)
    assert not health.faults, health.faults


def _kill_one(url: str, reference: str, done: int, seconds: float, count: Counter[str]) -> int:
    """Kill one writer that begins with write number `done`; how many writes count as done."""
    confirmed = killed(partial(_write_on, url, done), seconds)
    with Store(reference) as second, Store(url) as store:
        for number in range(done, done + confirmed):
            kind, write = work(number)
            write(second)
            count[f"{kind}, confirmed"] += 1
        kept, expected = contents(store), contents(second)
        kind, write = work(done + confirmed)
        count[f"{kind}, killed in or before"] += 1
        count["kills of writers"] += 1
        if kept == expected:
            # The write that was cut off may have changed nothing: then it may count as either.
            return confirmed
        write(second)
        assert kept == contents(second), f"write {done + confirmed} ({kind}) is half done or lost"
        count["done but not yet confirmed"] += 1
        return confirmed + 1


def _old_store(path: Path) -> None:
    with Store(path) as store:
        store.import_catalogue(TUBES)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TABLE pictures")
        connection.execute("DROP TABLE standins")
        connection.execute("DROP TABLE chosen_columns")
        connection.execute("ALTER TABLE tubes DROP COLUMN swatch_geometry")
        connection.execute("UPDATE alembic_version SET version_num = '0001'")
        connection.commit()
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def _bring_up_to_date(path: Path, confirm: int) -> None:
    os.write(confirm, b".")
    Store(path).close()


def _put_back(path: Path, confirm: int) -> None:
    os.write(confirm, b".")
    restore(path)


def _version(path: Path) -> str:
    with closing(sqlite3.connect(path)) as connection:
        return str(connection.execute("SELECT version_num FROM alembic_version").fetchone()[0])


def kill_migrations(folder: Path, more: More, count: Counter[str]) -> None:
    """Kill the step from an old store to a new one; before or after, with a whole backup."""
    rng = random.Random(8)
    old = folder / "old.sqlite3"
    _old_store(old)
    _bring_up_to_date_once(folder, old)
    longest = 0.4
    while more(count):
        place = folder / "migrated"
        place.mkdir()
        path = place / "store.sqlite3"
        shutil.copy(old, path)
        killed(partial(_bring_up_to_date, path), rng.uniform(0.01, longest))
        version = _version(path)
        count[f"migrations killed, left at {version}"] += 1
        longest *= 0.97 if version != "0001" else 1.03
        for backup in backups_of(path):
            assert not examine(sqlite_url(backup.path)).faults, "a backup that is not whole"
        with Store(path) as store:
            assert {tube.id for tube in store.catalogue()} == {tube.id for tube in TUBES}
        assert not examine(sqlite_url(path)).faults
        shutil.rmtree(place)


def _bring_up_to_date_once(folder: Path, old: Path) -> None:
    """Load here what a migration loads, so that kills fall into its work and not its imports."""
    path = folder / "first.sqlite3"
    shutil.copy(old, path)
    Store(path).close()


def kill_restores(folder: Path, more: More, count: Counter[str]) -> None:
    """Kill the putting back of a backup; the store is as before or as the backup."""
    rng = random.Random(9)
    path = folder / "restored" / "store.sqlite3"
    with Store(path) as store:
        store.import_catalogue(TUBES[:20])
    back_up(path)
    longest = 0.2
    while more(count):
        with Store(path) as store:
            store.import_catalogue(TUBES)
        killed(partial(_put_back, path), rng.uniform(0.005, longest))
        with Store(path) as store:
            found = len(store.catalogue())
        assert found in (20, len(TUBES)), f"{found} tubes after a restore that was killed"
        assert not examine(sqlite_url(path)).faults
        count[f"restores killed, {'after' if found == 20 else 'before'}"] += 1
        longest *= 0.97 if found == 20 else 1.03
        for leftover in path.parent.glob(".restore-*"):
            shutil.rmtree(leftover)
        for kept in path.with_name("store-backups").glob("replaced-*"):
            kept.unlink()


def main(words: list[str]) -> None:
    """Kill for so many minutes and print what was killed; ends with an error at the first loss."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--url", default="", help="an empty PostgreSQL database")
    chosen = parser.parse_args(words)
    count: Counter[str] = Counter()
    start = time.monotonic()
    seconds = 60 * chosen.minutes
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        reference = sqlite_url(folder / "reference.sqlite3")
        url = chosen.url or sqlite_url(folder / "store.sqlite3")

        def until(share: float) -> More:
            return lambda _: time.monotonic() < start + seconds * share

        kill_writers(url, reference, until(1.0 if chosen.url else 0.6), count)
        if not chosen.url:
            kill_migrations(folder, until(0.8), count)
            kill_restores(folder, until(1.0), count)
    for kind, number in sorted(count.items()):
        print(f"{number:6} {kind}")
    print("nothing confirmed was lost, nothing was half done")


if __name__ == "__main__":
    main(sys.argv[1:])
