"""Out of reach: the hue is held. Expected answers: common practice, no source."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.advice.recipes.reach import TURNED, Held, any_paint_reaches, hold_hue
from tubewise.colour.lab import lch_from_lab
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf

STUDENT = ("PW6", "PB29/red-shade", "PY3", "PR108", "PBr7/burnt-sienna")


def _reach(target: np.ndarray, box: list[Paint], most: int = 3) -> Held | None:
    if not box:
        return hold_hue(target, np.empty((0, 36)), np.empty((0, 36)), most)
    return hold_hue(target, np.stack([p.K[0] for p in box]), np.stack([p.S[0] for p in box]), most)


def _hue(lab: np.ndarray) -> float:
    return float(lch_from_lab(lab)[2])


@pytest.mark.parametrize(
    "target",
    [(55.0, 80.0, -10.0), (60.0, 60.0, 60.0), (50.0, 20.0, -80.0), (80.0, -60.0, 60.0)],
)
def test_the_hue_is_kept_and_chroma_given_up(
    shelf: Shelf, target: tuple[float, float, float]
) -> None:
    """A hot magenta, an orange, a violet-blue and a glaring green from a student's box."""
    held = _reach(np.array(target), [shelf.pigment(ref) for ref in STUDENT], 3)
    assert held is not None and held.hue_off <= TURNED
    goal, seen = lch_from_lab(np.array(target)), lch_from_lab(held.lab)
    assert seen[2] == pytest.approx(goal[2], abs=0.1)
    assert 4.0 < seen[1] < goal[1]


def test_more_paints_reach_as_far_or_farther(shelf: Shelf) -> None:
    target = np.array([55.0, 80.0, -10.0])
    few = _reach(target, [shelf.pigment(ref) for ref in STUDENT], 3)
    more = _reach(target, [shelf.pigment(ref) for ref in (*STUDENT, "PV19/gamma")], 3)
    assert few is not None and more is not None
    assert lch_from_lab(more.lab)[1] > 2.0 * lch_from_lab(few.lab)[1]


def test_a_grey_has_no_hue_to_hold_and_some_hues_are_not_there(shelf: Shelf) -> None:
    box = [shelf.pigment(ref) for ref in STUDENT]
    assert _reach(np.array([50.0, 3.0, 2.0]), box, 3) is None
    earths = [shelf.pigment(ref) for ref in ("PW6", "PBr7/burnt-sienna", "PY43")]
    assert _reach(np.array([50.0, 20.0, -60.0]), earths, 3) is None
    assert _reach(np.array([50.0, 20.0, -60.0]), [], 3) is None


def test_a_whole_shop_is_tried_by_the_paints_of_that_hue(shelf: Shelf) -> None:
    refs = [
        "PV19/gamma",
        "PY3",
        "PB15:3",
        "PG7",
        "PR108",
        "PR254",
        "PY74",
        "PB28",
        "PG18",
        "PY42",
        "PR101",
        "PBk9",
        "PW6",
        "PV23",
        "PR122",
        "PO73",
        "PB35",
        "PG50",
        "PY150",
    ]
    held = _reach(np.array([55.0, 90.0, -10.0]), [shelf.pigment(r) for r in refs], 2)
    assert held is not None and _hue(held.lab) == pytest.approx(
        _hue(np.array([55, 90, -10])), abs=0.1
    )
    assert lch_from_lab(held.lab)[1] > 45.0


def test_a_glaring_pink_is_beyond_all_ordinary_paints_and_a_brick_is_not() -> None:
    assert not any_paint_reaches(np.array([65.0, 95.0, -10.0]), 5.0)
    assert any_paint_reaches(np.array([45.0, 30.0, 25.0]), 5.0)
