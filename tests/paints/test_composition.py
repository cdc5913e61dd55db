"""The parts of a convenience colour, solved from its swatch."""

from __future__ import annotations

import numpy as np
import pytest

from tests.invented import tube
from tubewise.colour.difference import delta_e_2000
from tubewise.paints.composition import (
    BEND_SPREAD,
    PARTS_SPREAD,
    SWATCH_ERROR,
    bends,
    compose,
    equal_strength,
    masstone_lab,
)
from tubewise.paints.paint import pigment_stack, seeded
from tubewise.paints.shelf import Shelf, settled_form


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
    made = compose(K, S, seeded("test"), true)
    assert made.miss is not None and made.miss < 0.5
    np.testing.assert_allclose(made.shares, parts, rtol=0.35)
    # The draws agree with what was measured, to about the error of measuring.
    assert 0.1 < np.median(delta_e_2000(masstone_lab(made.K[1:], made.S[1:]), true)) < 2.5


def test_the_95_per_cent_radius_holds_the_truth_as_often_as_it_says() -> None:
    """Invented tubes: parts and bends drawn from the priors, swatches read with their error."""
    rng = np.random.default_rng(11)
    K, S = stacks("PV19/gamma", "PB29", "PW6")
    held = {"masstone": 0, "tint": 0}
    tries = 60
    for _ in range(tries):
        logs = np.log(equal_strength(K[:, 0], S[:, 0])) + PARTS_SPREAD * rng.standard_normal(3)
        parts = np.exp(logs) / np.exp(logs).sum()
        bend = bends(rng, 1, BEND_SPREAD)[0]
        true_K, true_S = (parts @ K[:, 0]) * bend, parts @ S[:, 0]
        swatch = masstone_lab(true_K, true_S) + SWATCH_ERROR * rng.standard_normal(3)
        fixed = np.broadcast_to(K[:, :1], K.shape), np.broadcast_to(S[:, :1], S.shape)
        made = compose(*fixed, rng, swatch)
        for name, white in (("masstone", 0.0), ("tint", 0.8)):
            drawn = masstone_lab(
                (1 - white) * made.K + white * K[2, 0], (1 - white) * made.S + white * S[2, 0]
            )
            truth = masstone_lab(
                (1 - white) * true_K + white * K[2, 0], (1 - white) * true_S + white * S[2, 0]
            )
            radius = np.percentile(delta_e_2000(drawn[1:], drawn[0]), 95.0)
            held[name] += bool(delta_e_2000(drawn[0], truth) <= radius)
    for name, count in held.items():
        assert 0.85 <= count / tries <= 1.0, (name, count / tries)


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
    violet = tube("Quinacridone", "PV19", swatch_lab=(27.0, 22.0, 0.0))
    paint = Shelf([violet]).tube(violet)
    assert paint is not None
    assert paint.refs == ("PV19/beta",)


def test_a_swatch_like_no_form_settles_nothing() -> None:
    odd = tube("Quinacridone", "PV19", swatch_lab=(90.0, -5.0, 80.0))
    assert settled_form(odd) is None


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
