"""The parts of a convenience colour, solved from its swatch."""

from __future__ import annotations

import numpy as np
import pytest

from tests.advice.conftest import tube
from tubewise.advice.composition import compose, masstone_lab
from tubewise.advice.paint import pigment_stack
from tubewise.advice.shelf import Shelf
from tubewise.colour.difference import delta_e_2000


def stacks(*refs: str) -> tuple[np.ndarray, np.ndarray]:
    pairs = [pigment_stack(ref) for ref in refs]
    return np.stack([K for K, _ in pairs]), np.stack([S for _, S in pairs])


@pytest.mark.parametrize(
    ("refs", "parts"),
    [
        (("PY74", "PG7"), (0.9, 0.1)),
        (("PR101", "PB29"), (0.5, 0.5)),
        (("PV19/gamma", "PB29", "PW6"), (0.3, 0.2, 0.5)),
    ],
)
def test_the_parts_come_back_from_the_swatch(
    refs: tuple[str, ...], parts: tuple[float, ...]
) -> None:
    K, S = stacks(*refs)
    true = masstone_lab(np.array(parts) @ K[:, 0], np.array(parts) @ S[:, 0])
    made = compose(K, S, true)
    assert made.miss is not None and made.miss < 0.5
    np.testing.assert_allclose(made.shares, parts, rtol=0.35)
    # Every draw of the uncertainty agrees with what was measured.
    assert np.median(delta_e_2000(masstone_lab(made.K, made.S), true)) < 1.5


def test_a_swatch_that_the_pigments_cannot_make_is_told() -> None:
    odd = tube("Sky", "PY74", swatch_lab=(60.0, -20.0, -40.0))
    paint = Shelf([odd]).tube(odd)
    assert paint is not None
    assert paint.confidence == "low"
    assert any("may be wrong" in note for note in paint.notes)


def test_without_a_swatch_the_parts_are_a_starting_guess() -> None:
    green = tube("Spring Green", "PY3, PG7, PW6")
    paint = Shelf([green]).tube(green)
    assert paint is not None
    assert paint.confidence == "low"
    assert sum(paint.shares) == pytest.approx(1.0)
    # A strong pigment gets the smaller part.
    by_ref = {
        ref.partition("/")[0]: share for ref, share in zip(paint.refs, paint.shares, strict=True)
    }
    assert by_ref["PG7"] < by_ref["PY3"]
    assert any("starting guess" in note for note in paint.notes)


def test_a_screen_colour_is_only_a_hint() -> None:
    shown = tube("Leaf", "PY74, PG7", swatch_hex="#6f9a2e")
    paint = Shelf([shown]).tube(shown)
    assert paint is not None
    assert any("only as a hint" in note for note in paint.notes)


def test_a_measured_swatch_settles_the_form() -> None:
    beta = tube("Quinacridone", "PV19", swatch_lab=(26.0, 24.0, 1.0))
    shelf = Shelf([beta])
    paint = shelf.tube(beta)
    assert paint is not None
    nearer = min(
        ("PV19/beta", "PV19/gamma"),
        key=lambda ref: float(
            delta_e_2000(masstone_lab(*(v[0] for v in pigment_stack(ref))), (26.0, 24.0, 1.0))
        ),
    )
    assert paint.refs == (nearer,)


def test_student_grade_holds_less_pigment() -> None:
    artist, student = tube("Blue", "PB29"), tube("Blue", "PB29", grade="student", line="Study")
    shelf = Shelf([artist, student])
    strong, weak = shelf.tube(artist), shelf.tube(student)
    assert strong is not None and weak is not None
    assert weak.K[0].max() < 0.7 * strong.K[0].max()


def test_an_unknown_code_is_left_out_and_said() -> None:
    odd = tube("Mystery Blue", "PB29, PB999")
    paint = Shelf([odd]).tube(odd)
    assert paint is not None
    assert paint.confidence == "low"
    assert any("PB999" in note for note in paint.notes)
