"""Identity of declared contents."""

from __future__ import annotations

import pytest

from tubewise.advice.alike.identity import Content, accepted, contents_of_refs, identity


@pytest.mark.parametrize(
    ("a", "b", "expected"),
    [
        (["PV23"], ["PV23"], "same pigments"),
        (["PV19/gamma"], ["PV19/gamma"], "same pigments"),
        (["PV19/gamma"], ["PV19/beta"], "same code, form may differ"),
        (["PV19/gamma"], ["PV19"], "same code, form may differ"),
        (["PB15:3"], ["PB15"], "same code, form may differ"),
        (["PB29"], ["PB29/red-shade"], "same pigments"),
        (["PY3", "PG7"], ["PG7", "PY3"], "same pigments"),
        (["PY3", "PG7"], ["PY74", "PG7"], "some pigments shared"),
        (["PR122"], ["PR209"], "different pigments"),
        ([], ["PR209"], "unknown"),
    ],
)
def test_identity_of_two_contents(a: list[str], b: list[str], expected: str) -> None:
    assert identity(contents_of_refs(a), contents_of_refs(b)) == expected
    assert identity(contents_of_refs(b), contents_of_refs(a)) == expected


def test_a_list_that_names_no_form_takes_any() -> None:
    assert accepted(["PR108"], (Content("PR108", "deep", False),)) == "same pigments"
    assert accepted(["PR108"], (Content("PR108", "medium", True),)) == "same pigments"


def test_a_list_that_names_a_form_wants_that_form() -> None:
    assert accepted(["PR108/deep"], (Content("PR108", "light", False),)) != "same pigments"
    assert accepted(["PV19/gamma"], (Content("PV19", "gamma", True),)) == (
        "same code, form may differ"
    )
