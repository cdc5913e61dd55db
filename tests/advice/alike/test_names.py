"""Names that mislead, and what lasts and needs caution."""

from __future__ import annotations

import math

import pytest

from tests.invented import tube
from tubewise.advice.alike.names import names
from tubewise.advice.plain import plain, to_json
from tubewise.colour.patch import Colour
from tubewise.pigments.permanence import cautions, lasting, lightfastness


def test_one_name_two_pigments() -> None:
    found = names(
        [
            tube("Permanent Rose", "PV19 rose"),
            tube("permanent-rose", "PR209", maker="Millrace"),
            tube("Permanent Rose", "PV19 rose", maker="Weir", medium="oil"),
        ]
    )
    (same,) = found.same_name
    assert set(same.pigments) == {("PR209",), ("PV19/gamma",)}
    assert "2 different paints" in same.words


def test_one_pigment_three_names() -> None:
    found = names([tube("Mauve", "PV23"), tube("Violet", "PV23"), tube("Dioxazine", "PV23")])
    (kin,) = found.same_pigments
    assert kin.names == ("Dioxazine", "Mauve", "Violet")


def test_hue_paints_declared_or_not() -> None:
    found = names(
        [
            tube("Cadmium Red Hue", "PR254"),
            tube("Cadmium Red", "PR254", maker="Weir"),
            tube("Cadmium Red", "PR108", maker="Millrace"),
        ]
    )
    assert {h.kind for h in found.hue_names} == {"hue-paint", "misleading-name"}
    assert len(found.hue_names) == 2


def test_an_undeclared_namesake_counts_as_another_paint() -> None:
    found = names([tube("Lilac", "PV23 PW6"), tube("Lilac", "60 ml", maker="Weir")])
    assert "one that declares nothing" in found.same_name[0].words
    assert "different paints" not in found.same_name[0].words


@pytest.mark.parametrize("ref", ["PV19", "PB15:3", "PB29", "PW6"])
@pytest.mark.parametrize("medium", ["acrylic", "oil"])
def test_these_last(ref: str, medium: str) -> None:
    assert lasting(lightfastness([ref], medium))


@pytest.mark.parametrize("medium", ["acrylic", "oil", "watercolour", "gouache"])
def test_alizarin_fades_in_every_binder_and_in_every_company(medium: str) -> None:
    assert not lasting(lightfastness(["PR83"], medium))
    assert lightfastness(["PB29", "PR83"], medium) in ("III", "IV", "V", "fugitive")


def test_what_is_not_rated_is_not_promised() -> None:
    assert lightfastness([], "oil") == "not rated"
    assert lightfastness(["PX999"], "oil") == "not rated"


def test_cautions_come_once_each() -> None:
    once = cautions(["PR108"])
    assert once and cautions(["PR108", "PR108/deep"]) == once


def test_json_holds_what_json_can() -> None:
    out = plain({"a": math.inf, "b": (1, Colour.of([50, 0, 0]))})
    assert out["a"] is None
    assert out["b"][1]["lab"] == [50.0, 0.0, 0.0]
    assert '"a": null' in to_json(out)
