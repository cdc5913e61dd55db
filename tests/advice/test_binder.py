"""The binder table as a painter asks it. Expected answers: common practice, no source."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from tubewise.advice import binder
from tubewise.errors import UserError
from tubewise.pigments.binders import binders

NAMES = tuple(binders())


@pytest.mark.parametrize(
    ("a", "b", "verdict"),
    [
        ("watercolour", "gouache", "yes"),
        ("oil", "water-mixable oil", "yes"),
        ("oil", "alkyd", "yes"),
        ("acrylic", "acrylic gouache", "yes"),
        ("oil", "oil", "yes"),
        ("oil", "acrylic", "no"),
        ("gouache", "acrylic gouache", "no"),
        ("watercolour", "acrylic", "no"),
        ("oil", "watercolour", "no"),
        ("ink", "ink", "with care"),
        ("casein", "gouache", "with care"),
        ("Aquarell", "guazzo", "yes"),
    ],
)
def test_what_mixes_with_what(a: str, b: str, verdict: str) -> None:
    rule = binder.mixes(a, b)
    assert rule.verdict == verdict == binder.mixes(b, a).verdict
    assert rule.why and rule.source


@pytest.mark.parametrize(
    ("top", "under", "verdict"),
    [
        ("oil", "acrylic", "yes"),
        ("acrylic", "oil", "no"),
        ("gouache", "oil", "no"),
        ("oil", "alkyd", "yes"),
        ("alkyd", "oil", "with care"),
        ("oil", "oil", "with care"),
        ("watercolour", "watercolour", "with care"),
    ],
)
def test_what_lies_over_what(top: str, under: str, verdict: str) -> None:
    assert binder.over(top, under).verdict == verdict


def test_the_reasons_are_the_trades_own() -> None:
    assert "acrylic never over oil" in binder.over("acrylic", "oil").why
    assert "fat over lean" in binder.over("oil", "oil").why
    assert "rots" in binder.on("oil", "watercolour paper").why


def test_grounds() -> None:
    assert binder.on("oil", "acrylic primer").verdict == "yes"
    assert binder.on("acrylic", "oil primer").verdict == "no"
    assert binder.on("Eitempera", "chalk ground").verdict == "yes"
    with pytest.raises(UserError, match="the grounds are watercolour paper, acrylic primer"):
        binder.on("oil", "velvet")


def test_a_tube_that_does_not_say_its_medium_may_be_any() -> None:
    rule = binder.mixes("", "oil")
    assert rule.verdict == "not known" and rule.goes
    assert binder.apart("", "oil") == ""


def test_every_pair_layer_and_ground_has_a_rule_with_reason_and_source() -> None:
    rules = [binder.mixes(a, b) for a, b in product(NAMES, NAMES)]
    rules += [binder.over(a, b) for a, b in product(NAMES, NAMES)]
    rules += [binder.on(a, ground) for a in NAMES for ground in binder.grounds()]
    assert len(rules) == 2 * len(NAMES) ** 2 + len(NAMES) * 5
    for rule in rules:
        assert rule.verdict in ("yes", "with care", "no")
        assert rule.why and not rule.why.endswith(".") and rule.source


def test_an_unknown_medium_is_refused() -> None:
    with pytest.raises(UserError, match="did you mean acrylic"):
        binder.mixes("acrilyc", "oil")


def test_the_binder_of_a_mixture() -> None:
    assert binder.common(["", "gouache", "watercolour"]) == "watercolour"
    assert binder.common(["water-mixable oil", "oil"]) == "oil"
    assert binder.common(["", ""]) == ""
    with pytest.raises(UserError, match=r"oils and acrylics do not mix: .*--medium"):
        binder.common(["oil", "acrylic"])
    with pytest.raises(UserError, match="mix only with care"):
        binder.common(["gouache", "casein"])


def test_a_rule_given_twice_or_without_reason_is_a_fault_of_the_file(tmp_path: Path) -> None:
    file = tmp_path / "binder_pairs.csv"
    file.write_text(
        "a,b,mixes,why,source\noil,alkyd,yes,both dry,book\nalkyd,oil,perhaps,,book\n"
        "plastic,oil,no,unlike,book\n",
        encoding="utf-8",
    )
    with pytest.raises(UserError) as error:
        binder.read_pairs(file)
    faults = "\n".join(error.value.problems)
    assert "row 3, column mixes" in faults and "row 3, column why" in faults
    assert "have a rule already" in faults and "'plastic' is no binder" in faults
