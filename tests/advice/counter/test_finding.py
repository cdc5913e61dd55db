"""Tubes found by what a person asks for."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from tubewise.advice.counter.finding import FoundTubes, Search, find
from tubewise.advice.counter.look import look
from tubewise.advice.plain import to_json
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.store.store import Store
from tubewise.tubes.tube import Tube

ROSE = Tube(maker="Oakfen", medium="oil", name="Permanent Rose", label="PV19 gamma", price=11.0)
GREEN = Tube(maker="Oakfen", medium="oil", name="Phthalo Blue", label="PB15:3", price=8.5, stock=0)
CRIMSON = Tube(maker="Millrace", medium="oil", name="Alizarin Crimson", label="PR83")
MYSTERY = Tube(maker="Millrace", medium="oil", name="Sea Mist", swatch_hex="#2040a0")
TUBES = (ROSE, GREEN, CRIMSON, MYSTERY)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "store.sqlite3") as store:
        store.import_catalogue(TUBES)
        yield store


def names(store: Store, search: Search) -> list[str]:
    return [tube.name for tube in find(search, store, lambda tube: look(tube, Shelf()).colour)]


@pytest.mark.parametrize(
    ("search", "found"),
    [
        (Search(name="permanant roze"), ["Permanent Rose"]),
        (Search(code="pb15"), ["Phthalo Blue"]),
        (Search(maker="Millrace", hue="blue"), ["Sea Mist"]),
        (Search(hue="red"), ["Permanent Rose", "Alizarin Crimson"]),
        (Search(permanence="fading"), ["Alizarin Crimson"]),
        (Search(permanence="lasting", at_most=9.0), ["Phthalo Blue"]),
        (Search(in_stock=True, code="PB15:3"), []),
        (Search(medium="acrylic"), []),
    ],
    ids=str,
)
def test_all_that_is_asked_narrows(store: Store, search: Search, found: list[str]) -> None:
    assert names(store, search) == found


@pytest.mark.parametrize(
    "search", [Search(code="zz9"), Search(hue="puce"), Search(permanence="eternal")], ids=str
)
def test_a_word_nobody_knows_is_told(store: Store, search: Search) -> None:
    with pytest.raises(UserError):
        names(store, search)


def test_found_tubes_come_in_pages() -> None:
    page = FoundTubes.of(TUBES, 1, 2)
    assert (page.tubes, page.total, page.more) == ((GREEN, CRIMSON), 4, 1)
    assert page.as_data()["offset"] == 1


def test_data_shows_pigments_as_the_label_does() -> None:
    bare = Tube(name="Quinacridone", label="PV19")
    found = json.loads(to_json(FoundTubes.of((bare,), 0, 5).as_data()))
    assert found["tubes"][0]["pigments"] == ["PV19"]
