"""The parts of a convenience colour, solved from its swatch."""

from __future__ import annotations

import numpy as np
import pytest

from tests.invented import tube
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.optics.surface import GEOMETRIES
from tubewise.optics.swatch import (
    BEND_SPREAD,
    GLARE,
    PARTS_SPREAD,
    SWATCH_ERROR,
    Swatch,
    masstone_lab,
)
from tubewise.paints import shelf
from tubewise.paints.composition import compose, equal_strength
from tubewise.paints.paint import pigment_stack, seeded
from tubewise.paints.shelf import Shelf, settled_form, swatch_of


def stacks(*refs: str) -> tuple[np.ndarray, np.ndarray]:
    found = [pigment_stack(ref) for ref in refs]
    return np.stack([stack.K for stack in found]), np.stack([stack.S for stack in found])


def read(K: np.ndarray, S: np.ndarray) -> Swatch:
    """The swatch that an instrument without the mirror reflection reads of K and S."""
    return Swatch(lab=masstone_lab(K, S, "excluded"))


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
    true = read(np.array(parts) @ K[:, 0], np.array(parts) @ S[:, 0])
    made = compose(K, S, seeded("test"), true)
    assert made.miss is not None and made.miss < 0.5
    np.testing.assert_allclose(made.shares, parts, rtol=0.35)
    # The draws agree with what was measured, to about the error of measuring.
    shown = masstone_lab(made.K[1:], made.S[1:], "excluded")
    assert 0.1 < np.median(delta_e_2000(shown, true.lab)) < 2.5


@pytest.mark.slow
def test_the_95_per_cent_radius_holds_the_truth_as_often_as_it_says() -> None:
    """Invented tubes: parts and bends drawn from the priors, swatches read with their error."""
    rng = np.random.default_rng(11)
    K, S = stacks("PV19/gamma", "PB29", "PW6")
    held = {"masstone": 0, "tint": 0}
    tries = 60
    along = (WAVELENGTHS_NM - 555.0) / 175.0
    shapes = np.stack([np.ones(36), along, along**2 - 1.0 / 3.0])
    for _ in range(tries):
        logs = np.log(equal_strength(K[:, 0], S[:, 0])) + PARTS_SPREAD * rng.standard_normal(3)
        parts = np.exp(logs) / np.exp(logs).sum()
        bend = np.exp((rng.standard_normal(3) * BEND_SPREAD) @ shapes)
        true_K, true_S = (parts @ K[:, 0]) * bend, parts @ S[:, 0]
        seen = masstone_lab(true_K, true_S, "excluded", GLARE * rng.standard_normal())
        swatch = Swatch(lab=seen + SWATCH_ERROR * rng.standard_normal(3))
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


# As a 45/0 instrument reads masstones of acrylics (from memory).
WITHOUT_MIRROR = {
    ("Phthalo Blue", "PB15:3"): (17.0, 12.0, -30.0),
    ("Ultramarine", "PB29"): (13.0, 37.0, -52.0),
    ("Magenta", "PR122"): (27.0, 44.0, 4.0),
    ("Raw Umber", "PBr7"): (21.0, 4.0, 8.0),
    ("Phthalo Green", "PG36"): (20.0, -27.0, 3.0),
}


@pytest.mark.parametrize("paint", WITHOUT_MIRROR)
def test_a_swatch_read_without_the_mirror_reflection_is_no_wrong_label(
    paint: tuple[str, str],
) -> None:
    seen = tube(*paint, swatch_lab=WITHOUT_MIRROR[paint])
    made = Shelf([seen]).tube(seen)
    assert made is not None
    assert not any("swatch" in note for note in made.notes)
    assert made.confidence != "low"


def test_nothing_said_of_a_swatch_means_without_the_mirror_reflection() -> None:
    blue = tube("Blue", "PB15:3", swatch_lab=(17.0, 12.0, -30.0))
    swatch = swatch_of(blue)
    assert swatch is not None and swatch.geometry == "excluded"
    assert swatch_of(tube("Blue", "PB15:3")) is None


def test_the_two_geometries_of_one_masstone_give_one_paint() -> None:
    K, S = stacks("PB29")
    made = [
        compose(
            K,
            S,
            seeded("test"),
            Swatch(lab=masstone_lab(K[0, 0], S[0, 0], geometry), geometry=geometry),
        )
        for geometry in GEOMETRIES
    ]
    np.testing.assert_allclose(made[0].K[0], made[1].K[0], rtol=0.02)
    np.testing.assert_allclose(made[0].K[0], K[0, 0], rtol=0.02)


def test_a_masstone_that_fits_the_other_geometry_is_asked_about(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A blue far darker than any mirror reflection, given as if it had one."""
    monkeypatch.setattr(shelf, "USUAL_GEOMETRY", "included")
    blue = tube("Ultramarine", "PB29", swatch_lab=(8.0, 43.0, -51.0))
    made = Shelf([blue]).tube(blue)
    assert made is not None and made.confidence == "low"
    assert any("with the specular part excluded?" in note for note in made.notes)


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


@pytest.mark.parametrize("water", [0.5, 1.0, 2.5])
@pytest.mark.parametrize("label", ["PB29", "PBr7 burnt sienna", "PG7, PY150"])
def test_the_swatch_of_a_watercolour_is_a_wash_of_nobody_knows_how_much_water(
    water: float, label: str
) -> None:
    """A glowing wash is no contradiction of a pigment that is nearly black in the mass."""
    washes = Shelf().setting("watercolour")
    plain = Shelf().tube(tube("Wash", label, medium="watercolour"))
    assert plain is not None
    shown = washes.lab_alone(plain, 1.0 / water)[0]
    painted = tube("Wash", label, medium="watercolour", swatch_lab=tuple(shown))
    paint = Shelf().tube(painted)
    assert paint is not None and not paint.contradicted
    assert delta_e_2000(washes.lab_alone(paint, 1.0 / water)[0], shown) < 8.0


def test_a_swatch_settles_the_form_of_a_watercolour_by_its_wash() -> None:
    washes = Shelf().setting("watercolour")
    for form in ("PV19/beta", "PV19/gamma"):
        shown = washes.lab_alone(Shelf().pigment(form))[0]
        bare = tube("Nameless", "PV19", medium="watercolour", swatch_lab=tuple(shown))
        assert settled_form(bare) == form
    # More water makes the transparent oxide look like the light one: the wash alone is no proof.
    thin = washes.lab_alone(Shelf().pigment("PR101/light"), 0.5)[0]
    bare = tube("Nameless", "PR101", medium="watercolour", swatch_lab=tuple(thin))
    assert settled_form(bare) is None
