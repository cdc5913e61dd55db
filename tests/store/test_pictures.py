"""Pictures stand with their tube, and are set aside rather than deleted."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tubewise.store.pictures import KeptPicture, kept_of
from tubewise.store.store import Store
from tubewise.tubes.tube import Box, Tube

ROSE = Tube(id="7", name="Heather rose", label="PV19")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "store.sqlite3") as opened:
        yield opened


def keep(store: Store, *pictures: KeptPicture, seat: str = "4") -> None:
    store.keep_in_box(Box(seat, (ROSE,)), "Moor", instead=False, kept=pictures)


def test_a_picture_is_kept_found_set_aside_and_brought_back(store: Store) -> None:
    keep(store, kept_of(ROSE, b"\xff\xd8one", []), kept_of(ROSE, b"\xff\xd8two", [1]))
    second, first = store.pictures_of(ROSE)
    assert store.pictures_of(Tube(id="8", name="Heather rose", label="PV19")) == []
    found = store.picture(first)
    assert found is not None and found.jpeg == b"\xff\xd8one" and found.tube_id == "7"
    assert store.withdraw_picture(first) and not store.withdraw_picture(first)
    assert store.pictures_of(ROSE) == [second] and store.picture(first) is None
    assert store.reinstate_picture(first) and not store.reinstate_picture(first)
    assert store.pictures_of(ROSE) == [second, first]


def test_a_picture_stays_with_a_tube_whose_name_or_label_is_mended(store: Store) -> None:
    keep(store, kept_of(ROSE, b"jpeg", []))
    assert store.pictures_of(Tube(id="7", name="heather  Rose", label="P.V. 19 / beta"))
    assert store.pictures_of(Tube(id="7", name="Rose of the moor", label="C.I. PV19"))


def test_another_tube_under_the_same_id_does_not_show_it(store: Store) -> None:
    keep(store, kept_of(ROSE, b"jpeg", []))
    assert store.pictures_of(Tube(id="7", name="Fen blue", label="PB29")) == []
    assert store.pictures_of(Tube(id="7", name="Fen blue", label="")) == []


def test_pictures_that_remember_nothing_stay_with_their_id(store: Store) -> None:
    keep(store, KeptPicture(tube_id="7", jpeg=b"jpeg", marks=[]))
    assert len(store.pictures_of(ROSE)) == 1


def test_box_and_pictures_are_kept_together_or_not_at_all(store: Store) -> None:
    keep(store)
    broken = KeptPicture(tube_id="7", jpeg=b"jpeg", marks={"not": {"in": object()}})
    with pytest.raises(Exception, match="JSON"):
        keep(store, kept_of(ROSE, b"jpeg", []), broken)
    [box] = store.boxes("Moor")
    assert box.tubes == (ROSE,) and store.pictures_of(ROSE) == []


def test_tubes_join_a_box_or_take_its_place(store: Store) -> None:
    keep(store, seat="Seat A")
    blue = Tube(name="Fen blue", label="PB29")
    store.keep_in_box(Box("seat  a", (blue,)), "Moor", instead=False, kept=())
    assert [box.tubes for box in store.boxes("Moor")] == [(ROSE, blue)]
    store.keep_in_box(Box("SEAT A", (blue,)), "Moor", instead=True, kept=())
    assert [(box.seat, box.tubes) for box in store.boxes("Moor")] == [("Seat A", (blue,))]
