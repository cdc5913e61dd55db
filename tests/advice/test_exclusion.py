"""Exclusions bite. The expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tests.invented import tube
from tubewise.advice.exclusion import caution_named, excluded, meant, required
from tubewise.errors import UserError
from tubewise.pigments.terms import CAUTION_KINDS

RED = tube("Cadmium Red", "PR108")
LARGE = tube("Cadmium Red", "PR108", size_ml=200.0)
DEEP = tube("Cadmium Red Deep", "PR108")
HUE = tube("Cadmium Red Hue", "PR254, PY83")
ORANGE = tube("Warm Orange", "PO20, PY74")
OPEN = tube("Quinacridone", "PV19")
VIOLET = tube("Violet Rose", "PV19 beta")
PHTHALO = tube("Phthalo Blue", "PB15:3")
BLIND = tube("Mystery Grey", "")
ALL = (RED, LARGE, DEEP, HUE, ORANGE, OPEN, VIOLET, PHTHALO, BLIND)


def _names(wish: str) -> set[str]:
    return {t.name for t in meant(wish, ALL).tubes}


def test_a_tube_by_its_id_a_paint_in_all_its_sizes() -> None:
    assert meant(RED.id, ALL).tubes == (RED,)
    assert meant(RED.paint, ALL).tubes == (RED, LARGE)


def test_a_pigment_means_every_tube_that_holds_it() -> None:
    assert _names("PR108") == _names("pr 108") == {"Cadmium Red", "Cadmium Red Deep"}
    assert _names("PB15") == _names("PB15:3") == {"Phthalo Blue"}
    # Nobody knows which form of PV19 the other one is, so it is left out too.
    assert _names("PV19/beta") == {"Quinacridone", "Violet Rose"}


def test_a_name_means_every_tube_called_so() -> None:
    assert _names("cadmium red") == {"Cadmium Red", "Cadmium Red Deep", "Cadmium Red Hue"}
    assert _names("Oakfen Fenland Warm Orange") == {"Warm Orange"}


@pytest.mark.parametrize("wish", ["cadmium", "no cadmium", "Kadmium", "ohne Kadmium", "cadmio"])
def test_a_class_of_caution_is_what_is_in_it_not_what_it_is_called(wish: str) -> None:
    assert meant(wish, ALL).kind == "caution"
    assert _names(wish) == {"Cadmium Red", "Cadmium Red Deep", "Warm Orange"}


def test_a_class_that_no_tube_has_is_no_error() -> None:
    assert meant("lead", ALL).tubes == ()
    assert excluded(["lead", "PB15:3"], ALL) == {PHTHALO.id}


@pytest.mark.parametrize("wish", ["nonsense", "", "PR83", "PR1080", "Cobalt Blue"])
def test_what_matches_nothing_is_an_error(wish: str) -> None:
    with pytest.raises(UserError):
        excluded([wish], ALL)


def test_the_error_says_what_is_near() -> None:
    with pytest.raises(UserError, match=r"did you mean .*Phthalo Blue"):
        meant("Pthalo Blu", ALL)
    with pytest.raises(UserError, match="no tube here holds PR83"):
        meant("PR83", ALL)


def test_what_is_required_is_one_tube() -> None:
    assert required(["Warm Orange", "PB15:3"], ALL) == (ORANGE.id, PHTHALO.id)
    assert required([RED.paint], ALL) == (RED.id,)
    with pytest.raises(UserError, match="means 2 tubes; say which: oakfen"):
        required(["PR108"], ALL)
    assert required(["PR108"], ALL, without=frozenset({DEEP.id})) == (RED.id,)
    with pytest.raises(UserError, match="left out"):
        required(["PO20"], ALL, without=excluded(["cadmium"], ALL))
    with pytest.raises(UserError, match="no tube here has it"):
        required(["lead"], ALL)


def test_every_class_of_caution_can_be_named() -> None:
    assert {caution_named(kind) for kind in CAUTION_KINDS if kind != "general"} == {
        kind for kind in CAUTION_KINDS if kind != "general"
    }
    assert caution_named("cadmium red") == ""
