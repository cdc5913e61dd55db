from __future__ import annotations

from pathlib import Path

import pytest

from tests.store.tubes_for_tests import TUBES, names, tube
from tubewise.errors import UserError
from tubewise.store.store import Imported, Store


@pytest.mark.parametrize(
    ("query", "best"),
    [
        ("permanent rose", "Permanent Rose"),
        ("Permanant Rose", "Permanent Rose"),
        ("rose permanent", "Permanent Rose"),
        ("ultra marine blue", "Ultramarine Blue"),
        ("ultram", "Ultramarine Blue"),
        ("xltramarine violet", "Ultramarine Violet"),
        ("grunhag white", "Titanium White"),
        ("RED", "Red"),
        ("lila", "Lilac"),
    ],
)
def test_names_misspelt_cut_short_or_in_another_order(store: Store, query: str, best: str) -> None:
    assert names(store, query)[0] == best


@pytest.mark.parametrize("query", ["zzzz", "!", "☃", "%", "' OR 1=1 --"])
def test_names_that_nothing_is_near(store: Store, query: str) -> None:
    assert store.find(query).total == 0


def test_by_code_form_maker_and_their_combinations(store: Store) -> None:
    assert names(store, code="PW6") == ["Titanium White", "Lilac"]
    assert names(store, code="PV19/gamma")[0] == "Permanent Rose"
    with pytest.raises(UserError, match="has no form"):
        names(store, code="PV19/nothing")
    assert names(store, maker="GRUNHAG") == ["Titanium White", "Lilac", "Red"]
    assert names(store, maker="Grunhog") == ["Titanium White", "Lilac", "Red"]
    assert names(store, maker="Zuxyq") == []
    assert names(store, "white", maker="Ostrel") == []
    assert names(store, code="PW6", medium="acrylic") == ["Lilac"]
    assert names(store, grade="student") == ["Ultramarine Violet"]
    assert names(store, in_stock=True) == ["Permanent Rose"]


def test_pages(store: Store) -> None:
    page = store.find(limit=2, offset=4)
    assert ([t.name for t in page.tubes], page.total, page.offset) == (["Lilac", "Red"], 6, 4)
    whole = [t.name for t in store.find("ultramarine").tubes]
    assert names(store, "ultramarine", limit=1, offset=1) == whole[1:2]
    assert store.find(offset=99).tubes == ()
    assert store.find(limit=-1).tubes == ()


def test_another_programs_tubes_are_found_too(store: Store, tmp_path: Path) -> None:
    assert names(store, "Viridian") == []
    with Store(tmp_path / "store.sqlite3") as other:
        other.import_catalogue([tube("Viridian", "PG18")])
    assert names(store, "Viridain") == ["Viridian"]


def test_a_deleted_tube_is_found_by_nothing_and_can_be_brought_back(store: Store) -> None:
    rose = TUBES[0]
    assert store.delete_tube(rose.id)
    assert not store.delete_tube(rose.id)
    assert store.tube(rose.id) is None
    assert store.catalogue() == TUBES[1:]
    for conditions in ({"name": "rose"}, {"code": "PV19/gamma"}, {"maker": "Ostrel"}):
        assert rose.name not in names(store, **conditions)
    assert store.restore_tube(rose.id)
    assert not store.restore_tube(rose.id)
    assert store.catalogue() == TUBES
    assert names(store, "rose") == names(store, code="PV19/gamma")[:1] == [rose.name]


def test_importing_a_deleted_tube_brings_it_back(store: Store) -> None:
    store.delete_tube(TUBES[0].id)
    assert store.import_catalogue(TUBES) == Imported(changed=1, unchanged=5)
    assert store.catalogue() == TUBES
