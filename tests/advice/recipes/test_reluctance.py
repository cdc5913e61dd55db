"""What a painter would rather not reach for. Expected answers: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.advice.shops import OIL
from tests.invented import tube
from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.reluctance import (
    FURTHER,
    dulled,
    is_toxic,
    read_usual,
    read_weights,
    trouble,
    usual_codes,
    weights,
)
from tubewise.advice.recipes.results import Recipe
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.errors import UserError
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube

SHELF = Shelf(OIL)


def _first(tubes: tuple[Tube, ...], aim: str, wishes: Wishes | None = None) -> Recipe:
    at_hand = AtHand(tubes=tubes, shelf=Shelf(tubes))
    return recipes_from(target(aim, SHELF), at_hand, wishes=wishes or Wishes()).recipes[0]


def _refs(recipe: Recipe) -> set[str]:
    return {pigment for part in recipe.parts for pigment in part.pigments}


@pytest.mark.parametrize(
    ("ref", "toxic"),
    [("PW1", True), ("PR106", True), ("PY34", True), ("PR108", False), ("PB28", False)],
)
def test_lead_mercury_and_chromate_are_toxic_here(ref: str, toxic: bool) -> None:
    assert is_toxic([ref]) is toxic


@pytest.mark.slow
@pytest.mark.parametrize("aim", ["lab:48,46,34", "lab:58,0,2", "lab:76,22,10"])
def test_an_ordinary_paint_comes_before_a_toxic_one(aim: str) -> None:
    """A scarlet, a grey and a rose from a box with lead white and vermilion in it."""
    first = _first(OIL, aim)
    assert first.delta_e00 <= 4.0
    assert not _refs(first) & {"PW1", "PR106"}


@pytest.mark.slow
def test_what_is_required_is_used_toxic_or_not() -> None:
    first = _first(OIL, "lab:58,0,2", Wishes(must=("PW1",)))
    assert "PW1" in _refs(first)


def test_what_fades_flakes_or_is_unusual_must_bring_something(shelf: Shelf) -> None:
    plain, lake, zinc, rare = map(shelf.pigment, ("PB29", "PR83", "PW4", "PY53"))
    assert trouble(plain, "oil") == 0.0
    assert trouble(lake, "oil") > trouble(rare, "oil") > 0.0
    assert trouble(zinc, "oil") > trouble(zinc, "acrylic") == 0.0


def _dulled(shelf: Shelf, lab: list[float], **parts: float) -> float:
    paints: list[Paint] = [shelf.pigment(ref.replace("_", "/")) for ref in parts]
    return dulled(np.array(lab), paints, list(parts.values()))


def test_sand_from_turquoise_and_orange_is_a_detour_and_from_an_earth_is_none(
    shelf: Shelf,
) -> None:
    sand = [52.0, 6.0, 20.0]
    assert _dulled(shelf, sand, PG50_teal=3, PO20=2, PW6=3) > 0.5
    assert _dulled(shelf, [38.0, 6.0, 12.0], PV16=3, PY35=1) > 0.4
    assert _dulled(shelf, sand, PY43=4, PBk9=1, PW6=3) == 0.0


def test_yellow_and_blue_for_a_green_and_complementaries_for_a_grey_are_no_detour(
    shelf: Shelf,
) -> None:
    assert _dulled(shelf, [50.0, -30.0, 35.0], PY74=5, PB28=2) == 0.0
    assert _dulled(shelf, [58.0, 16.0, -26.0], PB29=2, PR122=1) == 0.0
    assert _dulled(shelf, [45.0, 1.0, 2.0], PR108=1, PG18=2, PW6=2) == 0.0


@pytest.mark.slow
@pytest.mark.parametrize("aim", ["lab:52,6,20", "lab:38,6,12", "lab:58,14,16"])
def test_sand_bark_and_skin_in_shade_are_mixed_from_an_earth(aim: str) -> None:
    earths = {"PY43", "PBr7", "PY42", "PR101"}
    assert {ref.partition("/")[0] for ref in _refs(_first(OIL, aim))} & earths


@pytest.mark.slow
def test_two_tubes_of_one_pigment_are_squeezed_as_one() -> None:
    again = tuple(
        tube(t.name, t.label, medium="oil", line="Tern", grade="student", size_ml=37) for t in OIL
    )
    first = _first((*again, *OIL), "lab:52,6,20")
    single = [part.tube for part in first.parts if len(part.pigments) == 1]
    assert single and set(single) <= {t.id for t in OIL}


def test_the_tables_hold_together() -> None:
    assert weights().others[FURTHER] == 1.0
    assert {"PW6", "PB29", "PBr7", "PR108"} < usual_codes()
    assert "PW1" not in usual_codes()


def test_a_fault_in_the_tables_is_told_by_row_and_column(tmp_path: Path) -> None:
    file = tmp_path / "reluctance.csv"
    file.write_text("of,what,trouble,source\nnote,fugitive,much,practice\n", encoding="utf-8")
    with pytest.raises(UserError) as error:
        read_weights(file)
    text = str(error.value) + " ".join(error.value.problems)
    assert "row 2" in text and "trouble" in text and "nothing is said of" in text
    usual = tmp_path / "usual.csv"
    usual.write_text("pigments,place,source\nPX99,blue,practice\n", encoding="utf-8")
    with pytest.raises(UserError) as error:
        read_usual(usual)
    assert "PX99" in " ".join(error.value.problems)
