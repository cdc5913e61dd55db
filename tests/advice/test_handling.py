"""Handling in words and as wishes. Expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tubewise.advice.handling import fails, fits, in_place, traits
from tubewise.errors import UserError


def _values(refs: list[str], medium: str) -> dict[str, str]:
    return {trait.of: trait.value for trait in traits(refs, medium)}


def test_what_matters_depends_on_the_binder() -> None:
    assert list(_values(["PB29"], "oil")) == ["drying", "film", "oil", "covering", "drying shift"]
    assert list(_values(["PB29"], "Aquarell")) == [
        "staining",
        "granulation",
        "lifting",
        "wash",
        "drying shift",
    ]
    assert list(_values(["PB29"], "acrylic")) == ["covering", "drying shift"]
    assert traits(["PB29"], "") == traits([], "oil") == ()


def test_traits_in_a_painters_words() -> None:
    assert [t.words for t in traits(["PB29"], "watercolour")][:2] == ["hardly stains", "granulates"]
    assert any("dries fast in oil" in t.words for t in traits(["PBr7/burnt-umber"], "oil"))
    assert any("may flake" in t.words for t in traits(["PW4"], "oil"))


def test_what_is_not_known_says_so_and_every_trait_says_where_from() -> None:
    unknown = {trait.of: trait for trait in traits(["PG58"], "watercolour")}
    assert unknown["staining"].words == "staining: not known"
    assert unknown["wash"].words == "transparency in a wash: not known"
    for trait in traits(["PW1"], "alkyd"):
        assert trait.source


def test_lead_white_is_lean_and_lamp_black_fat() -> None:
    assert _values(["PW1"], "oil")["oil"] == "little"
    assert _values(["PBk7"], "oil")["oil"] == "much"
    assert _values(["PW1", "PBk7"], "oil")["oil"] == "much"


def test_wishes_take_only_what_is_known_to_fit() -> None:
    assert fits("granulating", ["PB29"]) and not fits("granulating", ["PB29", "PG7"])
    assert fits("non-staining", ["PB28"]) and not fits("non-staining", ["PB15:3"])
    assert fits("fast-drying", ["PW1"]) and not fits("fast-drying", ["PBk9"])
    assert not fits("granulating", ["PG58"]) and not fits("granulating", [])
    assert fits("staining", ["PB15:3"]) and not fits("staining", ["PB28"])
    assert fits("transparent", ["PB29"]) and not fits("transparent", ["PB29", "PW6"])
    assert fits("opaque", ["PR108"]) and not fits("opaque", ["PY150"])


def test_a_wish_out_of_place_is_refused() -> None:
    in_place("granulating", "gouache")
    in_place("fast-drying", "alkyd")
    in_place("fast-drying", "")
    in_place("transparent", "oil")
    in_place("opaque", "gouache")
    with pytest.raises(UserError, match="a wish for watercolour and gouache, and these tubes are"):
        in_place("granulating", "oil")
    with pytest.raises(UserError, match="a wish for oil paints"):
        in_place("fast-drying", "acrylic")


def test_what_is_not_known_to_be_as_wished_fails() -> None:
    assert fails(("granulating", "non-staining"), ["PB28"]) == ()
    assert fails(("granulating", "non-staining"), ["PB15:3"]) == ("granulating", "non-staining")
    assert fails(("granulating",), ["PB29", "PB15:3"]) == ("granulating",)
