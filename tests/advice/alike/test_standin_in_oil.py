"""Stand-ins in an oil shop. The answers a painter expects: common practice, no source."""

from __future__ import annotations

import pytest

from tests.advice.shops import OIL, named
from tests.invented import tube
from tubewise.advice.alike.standin import standin
from tubewise.advice.alike.standin_results import StandIns, StandInWishes
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.pigments.purpose import SALE

SHELF = Shelf(OIL)


def _for(name: str, wishes: StandInWishes | None = None) -> StandIns:
    return standin(named(OIL, name), OIL, SHELF, wishes=wishes or StandInWishes())


def _mixed_from(answer: StandIns) -> set[str]:
    return {p.tube for s in answer.standins if s.recipe for p in s.recipe.parts}


@pytest.mark.slow
def test_nothing_is_mixed_from_the_thing_itself_nor_from_four_paints() -> None:
    twin = tube("Emerald", "PG18", medium="oil", line="Rook")
    shop = (*OIL, twin)
    answer = standin(named(OIL, "Viridian"), shop, Shelf(shop))
    assert answer.standins[0].tube == twin.id
    assert twin.id not in _mixed_from(answer)
    for one in answer.standins:
        assert one.recipe is None or len(one.recipe.parts) <= 3


def test_what_lasts_comes_before_what_fades_and_fading_is_said_in_the_first_line() -> None:
    """A rubine lake looks like an anthraquinone red, and is not one."""
    answer = _for("Anthraquinone Red")
    first = answer.standins[0]
    assert first.does and not first.warning
    rubine = next(s for s in answer.standins if s.tube == named(OIL, "Rubine").id)
    assert "PR57:1 (lithol rubine)" in rubine.warning and "fades in light" in rubine.warning


def test_for_sale_nothing_that_fades_stands_in_or_is_mixed() -> None:
    answer = _for("Anthraquinone Red", StandInWishes(purpose=SALE))
    fading = {named(OIL, "Rubine").id, named(OIL, "Alizarin Crimson").id}
    assert not fading & ({s.tube for s in answer.standins} | _mixed_from(answer))
    assert {(t.tube, t.why) for t in answer.left_out} >= {
        (one, "not fit for sale") for one in fading
    }


@pytest.mark.slow
def test_zinc_white_is_no_lead_white() -> None:
    answer = _for("Lead White")
    assert named(OIL, "Zinc White").id not in {s.tube for s in answer.standins}
    assert any("brittle" in t.why for t in answer.left_out)


def test_what_is_left_out_stays_out_and_must_mean_something() -> None:
    answer = _for("Vermilion", StandInWishes(without=("cadmium",)))
    cadmium = {named(OIL, "Cadmium Red").id, named(OIL, "Cadmium Yellow").id}
    assert not cadmium & ({s.tube for s in answer.standins} | _mixed_from(answer))
    with pytest.raises(UserError, match="nonsense"):
        _for("Vermilion", StandInWishes(without=("nonsense",)))


def test_grade_and_medium_stand_beside_the_tube_and_other_media_are_left_out() -> None:
    acrylic = tube("Rose", "PV19 gamma", line="Fen")
    shop = (*OIL, acrylic)
    answer = standin(named(OIL, "Anthraquinone Red"), shop, Shelf(shop))
    assert {s.paint for s in answer.standins if s.tube} == {"artist oil"}
    assert "acrylic does not mix with oil" in {t.why for t in answer.left_out}
    assert answer.medium == "oil"


def test_another_character_is_said() -> None:
    answer = _for("Anthraquinone Red")
    cadmium = next(s for s in answer.standins if s.tube == named(OIL, "Cadmium Red").id)
    assert "is opaque, not transparent" in cadmium.character
