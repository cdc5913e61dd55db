"""The counter: what pages are told follows the store, and what is known of paints stays known."""

from __future__ import annotations

import time
from pathlib import Path
from threading import Event, Thread

import pytest

from tests.web.test_measurements import ROSE, readings
from tubewise.measure.attach import attach
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.read_file import read_file
from tubewise.store.store import Store
from tubewise.tubes.tube import Box, Tube
from tubewise.web.counter import Counter
from tubewise.web.holdings import Holdings

TUBES = [
    Tube(
        maker="Thornquay",
        line="Wherry",
        medium="acrylic",
        name="Permanent Rose",
        label="PV19 gamma",
        size_ml=60,
    ),
    Tube(name="Blue", label="PB29"),
]


@pytest.fixture
def store(tmp_path: Path) -> Store:
    store = Store(tmp_path / "counter.sqlite3")
    store.import_catalogue(TUBES)
    return store


def test_nothing_is_read_twice_without_a_change(store: Store) -> None:
    counter = Counter(store)
    assert counter.revision is None
    holdings = counter.holdings()
    assert counter.holdings() is holdings and counter.revision == holdings.revision


@pytest.mark.slow
def test_another_programs_change_is_seen(store: Store) -> None:
    counter = Counter(store)
    before = counter.holdings()
    store.import_boxes([Box("1", (TUBES[0],))])
    time.sleep(0.6)
    after = counter.holdings()
    assert before.boxes == {} and [b.seat for b in after.boxes[""]] == ["1"]


def test_who_wrote_reads_it_while_another_reader_is_being_served(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    counter = Counter(store)
    counter.holdings()
    reading, go_on = Event(), Event()
    read = Counter._read

    def slowly(self: Counter, revision: int) -> Holdings:
        reading.set()
        assert go_on.wait(5.0)
        return read(self, revision)

    monkeypatch.setattr(Counter, "_read", slowly)
    counter.change(lambda s: s.import_boxes([Box("7", (TUBES[0],))]))
    other = Thread(target=counter.holdings)
    other.start()
    assert reading.wait(5.0)
    # Another reader's look is under way: what was before the change is nobody's any more.
    assert counter.revision is None
    mine: list[Holdings] = []
    writer = Thread(target=lambda: mine.append(counter.holdings()))
    writer.start()
    go_on.set()
    writer.join(5.0)
    other.join(5.0)
    assert [box.seat for box in mine[0].boxes[""]] == ["7"]


def test_paints_stay_known_when_boxes_change(store: Store) -> None:
    counter = Counter(store)
    first = counter.holdings()
    paint, look = first.shelf.tube(TUBES[0]), first.seen(TUBES[0])
    counter.change(lambda s: s.import_boxes([Box("1", (TUBES[0],))]))
    second = counter.holdings()
    assert second is not first
    assert second.shelf.tube(TUBES[0]) is paint and second.seen(TUBES[0]) is look


def test_a_measurement_makes_its_tube_new(store: Store, tmp_path: Path) -> None:
    assert TUBES[0].id == ROSE
    counter = Counter(store)
    assert counter.holdings().seen(TUBES[0]).basis == "measured (published)"
    file = tmp_path / "rose.csv"
    file.write_bytes(readings())
    optics = learn(drawdown_set([read_file(file, "auto")], (), "included"), tube=ROSE)
    counter.change(lambda s: attach(s, optics))
    assert counter.holdings().seen(TUBES[0]).basis == "measured"


def test_warming_paints_every_tube(store: Store) -> None:
    holdings = Counter(store).holdings()
    holdings.warm()
    assert holdings.shelf.tube(TUBES[1]) in holdings.paints.known.values()
