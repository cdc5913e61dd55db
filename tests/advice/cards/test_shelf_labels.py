"""Shelf labels, tube by tube."""

from __future__ import annotations

import pytest

from tubewise.advice.cards.shelf_labels import shelf_labels
from tubewise.errors import UserError
from tubewise.tubes.tube import Tube

CADMIUM = Tube(name="Cadmium Red", label="PR108", medium="oil")


def test_a_label_says_how_long_it_lasts_and_what_to_be_careful_with() -> None:
    (label,) = shelf_labels([CADMIUM])
    assert label.lightfastness == "I" and label.cautions[0].kind == "cadmium"
    assert label.paint is not None


def test_a_tube_that_declares_nothing_promises_nothing() -> None:
    (label,) = shelf_labels([Tube(name="Rose")])
    assert (label.paint, label.lightfastness, label.cautions) == (None, "", ())


def test_labels_need_tubes_and_say_how_far_they_are() -> None:
    with pytest.raises(UserError, match="no tubes"):
        shelf_labels([])
    steps: list[int] = []
    shelf_labels([CADMIUM] * 3, progress=lambda done, total: steps.append(done))
    assert steps == [1, 2, 3]
