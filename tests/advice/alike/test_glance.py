"""Fifty pairs at a glance are what each pair is by itself."""

from __future__ import annotations

import pytest

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.compare import PARTNERS, companies
from tubewise.advice.alike.glance import ROWS, glances
from tubewise.demo.workshop import folder
from tubewise.paints.shelf import Shelf
from tubewise.tubes.catalogue import read_catalogue


@pytest.mark.parametrize(
    ("workshop", "medium", "name"),
    [
        ("acrylic", "acrylic", "ultramarine"),
        ("acrylic", "gouache", "white"),
        ("oil", "oil", "white"),
        ("watercolour", "watercolour", "black"),
        ("watercolour", "watercolour", "yellow"),
    ],
)
def test_a_glance_is_the_best_estimate_of_the_comparison(
    workshop: str, medium: str, name: str
) -> None:
    shelf = Shelf(read_catalogue(folder(workshop) / "catalogue.csv"))
    paints = [p for t in shelf.tubes.values() if t.medium == medium and (p := shelf.tube(t))]
    setting = shelf.setting(medium)
    mates = companies(shelf, PARTNERS, setting)
    wanted = next(p for p in paints if name in p.name.casefold())
    # More than one bundle, and one that is not full; checked here and there.
    some = paints[: ROWS + 20]
    found = glances(wanted, some, setting, mates)
    assert len(found) == len(some)
    for number in range(0, len(some), 6):
        seen = compare_behaviour(wanted, some[number], setting, mates)
        assert found[number].worst == seen.worst.delta_e00
        assert found[number].factor == seen.factor
        assert found[number].another == any(d.another for d in seen.deciding)


def test_nothing_beside_it_is_nothing() -> None:
    shelf = Shelf()
    assert glances(shelf.pigment("PB29"), [], shelf.setting("oil")) == []
