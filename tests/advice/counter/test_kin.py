"""The same inside or the same outside."""

from __future__ import annotations

from tubewise.advice.counter.kin import same_name, same_pigments
from tubewise.tubes.tube import Tube

ROSE = Tube(medium="oil", name="Permanent Rose", label="PV19 gamma", size_ml=40.0, price=10.0)
LARGE = Tube(medium="oil", name="Quinacridone", label="PV19 gamma", size_ml=200.0, price=20.0)
DEAR = Tube(medium="oil", name="Rose", label="PV19 gamma", size_ml=15.0, price=12.0)
UNPRICED = Tube(medium="oil", name="Old Rose", label="PV19 gamma")
ACRYLIC = Tube(medium="acrylic", name="Permanent Rose", label="PV19 gamma", price=1.0)
OTHER = Tube(medium="oil", name="permanent  rose", label="PR209")
EVERY = (ROSE, DEAR, UNPRICED, LARGE, ACRYLIC, OTHER)


def test_the_same_pigments_come_cheapest_by_volume_first() -> None:
    assert same_pigments(ROSE, EVERY) == [LARGE, DEAR, UNPRICED]


def test_the_same_name_with_other_pigments() -> None:
    assert same_name(ROSE, EVERY) == [OTHER]


def test_tubes_that_declare_nothing_are_nobodys_kin() -> None:
    bare = Tube(medium="oil", name="", label="")
    assert same_pigments(bare, (Tube(medium="oil", name="x"),)) == []
    assert same_name(bare, (Tube(medium="oil", label="PB29"),)) == []
