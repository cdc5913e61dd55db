"""How pigments handle. Expected answers: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

import tubewise.pigments
from tubewise.errors import UserError
from tubewise.pigments.handling import (
    NOT_KNOWN,
    SCALES,
    UNKNOWN,
    drying_shift,
    handling,
    oil_absorption,
    read_handling,
    read_shifts,
    together,
)
from tubewise.pigments.register import load
from tubewise.pigments.terms import OPACITIES

FILE = Path(tubewise.pigments.__path__[0]) / "data" / "handling.csv"
ROWS = read_handling(FILE)


def test_the_file_knows_some_sixty_codes_and_says_where_from() -> None:
    assert len({ref.partition("/")[0] for ref in ROWS}) >= 45
    for ref, facts in ROWS.items():
        assert "common practice, no source" in facts.source or "from memory" in facts.source, ref


@pytest.mark.parametrize("ref", sorted(ROWS))
def test_a_wash_lets_through_about_what_the_register_says(ref: str) -> None:
    """The register's opacity is of any paint; a wash may be one step away from it, no more."""
    pigment, form = load().resolve(ref)
    wash = ROWS[ref].wash
    if wash != NOT_KNOWN:
        known = form.opacity if form and form.opacity else pigment.opacity
        assert abs(OPACITIES.index(wash) - OPACITIES.index(known)) <= 1


@pytest.mark.parametrize("ref", sorted(ROWS))
def test_what_stains_is_hard_to_lift(ref: str) -> None:
    facts = ROWS[ref]
    if NOT_KNOWN not in (facts.staining, facts.lifting):
        steps = [SCALES[name].index(getattr(facts, name)) for name in ("staining", "lifting")]
        assert abs(steps[0] - steps[1]) <= 1
        assert (facts.staining == "staining") == (facts.lifting == "hard")


def test_facts_of_the_trade() -> None:
    assert handling("PW1").drying == "fast" and handling("PW1").film == "tough"
    assert handling("PW4").film == "brittle"
    assert handling("PBk9").drying == "slow"
    assert handling("PBr7/burnt-umber").drying == "fast"
    assert handling("PB29/red-shade").granulation == "granulating"
    assert handling("PG7").staining == "staining"
    assert handling("PR108/light").wash == "opaque"


def test_a_form_of_its_own_row_comes_before_its_code_and_a_suffix_after() -> None:
    assert handling("PR101/transparent").wash == "transparent"
    assert handling("PR101/deep").wash == handling("PR101").wash == "opaque"
    assert handling("PB15:3") == handling("PB15")
    assert handling("PR83:1") == handling("PR83")


def test_of_the_others_nothing_is_known() -> None:
    assert handling("PG58") == UNKNOWN
    assert set(SCALES) < set(UNKNOWN.__slots__)
    assert {getattr(UNKNOWN, name) for name in SCALES} == {NOT_KNOWN}


def test_the_weakest_member_decides_a_mixture() -> None:
    grey = together(["PB29", "PBr7/burnt-umber"])
    assert (grey.drying, grey.granulation, grey.staining) == ("slow", "granulating", "medium")
    assert together(["PB29", "PG7"]).staining == "staining"
    # Nothing is known of PG58; a slow pigment in the mixture decides all the same.
    assert together(["PG58", "PBr7/burnt-umber"]).drying == NOT_KNOWN
    assert together(["PG58", "PBk9"]).drying == "slow"
    assert together([]) == UNKNOWN


def test_oil_that_a_pigment_takes_up() -> None:
    assert oil_absorption("PW1") == "little"
    assert oil_absorption("PBk7") == "much"


def test_what_binders_do_as_they_dry() -> None:
    shift = drying_shift("Gouache")
    assert shift is not None and shift.shift == "both ways"
    assert "darker" in str(drying_shift("acrylic")) and drying_shift("") is None
    with pytest.raises(ValueError, match="no medium we know"):
        drying_shift("butter")


def test_what_the_files_may_not_say(tmp_path: Path) -> None:
    head = "code,drying,film,staining,granulation,lifting,wash,covering,source\n"
    file = tmp_path / "handling.csv"
    file.write_text(
        f"{head}PB29,at once,not known,low,smooth,easy,transparent,weak,book\n"
        "PQ1,fast,not known,low,smooth,easy,transparent,weak,\n",
        encoding="utf-8",
    )
    with pytest.raises(UserError) as error:
        read_handling(file)
    faults = "\n".join(error.value.problems)
    assert "row 2, column drying" in faults
    assert "row 3, column code" in faults and "row 3, column source" in faults
    shifts = tmp_path / "drying_shift.csv"
    shifts.write_text(
        "binder,touch_dry,shift,text,source\nbutter,never,sideways,,book\n", encoding="utf-8"
    )
    with pytest.raises(UserError, match=r"(?s)row 2, column binder.*nothing is said of acrylic"):
        read_shifts(shifts)
