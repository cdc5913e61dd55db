"""Facts of the trade that the built-in optics must show (common practice, no source).

Each test is one fact as a painter would say it, on the modelled pigments as they come.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import DRAWDOWN_FILM, film_reflectance, opaque_reflectance
from tubewise.optics.hiding import contrast_ratio
from tubewise.optics.mixture import mix
from tubewise.optics.surface import measured_from_internal
from tubewise.pigments.models import PigmentOptics, optics, stack
from tubewise.pigments.register import load

Floats = NDArray[np.float64]


def lab(**parts: float) -> Floats:
    """CIELAB of an opaque mixture; refs spelled for Python: PV19_gamma=1, PB15_c3=2."""
    refs = [name.replace("_c", ":").replace("_", "/") for name in parts]
    K, S = mix(*stack(refs), list(parts.values()))
    return np.asarray(lab_from_reflectance(measured_from_internal(opaque_reflectance(K, S))))


def chroma(colour: Floats) -> float:
    return float(np.hypot(colour[1], colour[2]))


def hue(colour: Floats) -> float:
    return float(np.degrees(np.arctan2(colour[2], colour[1])) % 360.0)


def turn(from_: Floats, to: Floats) -> float:
    """Degrees of hue from one colour to another, -180 to 180; positive is anticlockwise."""
    return (hue(to) - hue(from_) + 180.0) % 360.0 - 180.0


def tint(ref: str, share: float = 0.1) -> Floats:
    return lab(**{ref: share, "PW6": 1.0 - share})


def tint_of_lightness(ref: str, L: float) -> Floats:
    """The tint in white that is as light as asked, found by halving."""
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if tint(ref, middle)[0] > L else (low, middle)
    return tint(ref, low)


def strength(ref: str, standard: str) -> float:
    """Tinting strength against a standard (ASTM D4838, from memory).

    K/S of tints of a tenth at the band where the standard's absorbs most, the white's taken off.
    """
    K, S = stack([ref, standard, "PW6"])
    white = K[2] / S[2]
    pulls = (0.1 * K[:2] + 0.9 * K[2]) / (0.1 * S[:2] + 0.9 * S[2]) - white
    band = int(pulls[1].argmax())
    return float(pulls[0, band] / pulls[1, band])


def hiding(ref: str, X: float = 5.0) -> float:
    found = optics(ref)
    return float(contrast_ratio(found.K, found.S, X))


# Mixtures of reds and violets with blue.


@pytest.mark.parametrize("blue", [{"PB29": 1.0}, {"PB15_c3": 0.4}])
@pytest.mark.parametrize("white", [2.0, 4.0])
def test_quinacridone_rose_makes_cleaner_violets_than_quinacridone_coral(
    blue: dict[str, float], white: float
) -> None:
    gamma = lab(PV19_gamma=1, PW6=white, **blue)
    coral = lab(PR209=1, PW6=white, **blue)
    assert chroma(gamma) > chroma(coral) + 2.0


def test_alone_quinacridone_coral_is_the_yellower_red() -> None:
    assert turn(lab(PV19_gamma=1), lab(PR209=1)) > 5.0
    assert turn(tint("PV19_gamma"), tint("PR209")) > 5.0


@pytest.mark.parametrize("bluer", ["PR122", "PV19_beta"])
def test_quinacridone_magenta_and_violet_are_bluer_than_rose(bluer: str) -> None:
    assert turn(tint_of_lightness("PV19_gamma", 70), tint_of_lightness(bluer, 70)) < -5.0
    assert turn(lab(PV19_gamma=1), lab(**{bluer: 1})) < -3.0


def test_dioxazine_is_nearly_black_alone_and_a_blue_violet_in_tints() -> None:
    masstone = lab(PV23=1)
    assert masstone[0] < 27.0 and chroma(masstone) < 12.0
    assert 290.0 < hue(tint_of_lightness("PV23", 60)) < 315.0
    assert chroma(tint_of_lightness("PV23", 60)) > 25.0


def test_weak_and_strong_dioxazine_agree_once_strength_is_equalised() -> None:
    """A student grade of a third of the load: the same tint with three times the parts."""
    K, S = stack(["PV23", "PW6"])
    weak = np.array([K[0] / 3.0, S[0] / 3.0])

    def tinted(k: Floats, s: Floats, parts: float) -> Floats:
        k_mix, s_mix = mix(np.stack([k, K[1]]), np.stack([s, S[1]]), [parts, 20.0])
        R = measured_from_internal(opaque_reflectance(k_mix, s_mix))
        return np.asarray(lab_from_reflectance(R))

    student, artist = tinted(weak[0], weak[1], 3.0), tinted(K[0], S[0], 1.0)
    assert abs(turn(student, artist)) < 2.0
    assert float(delta_e_2000(student, artist)) < 2.0
    assert float(delta_e_2000(tinted(weak[0], weak[1], 1.0), artist)) > 5.0


# Blues and greens.


@pytest.mark.parametrize(
    ("greener", "redder"),
    [("PB15_c3", "PB15_c1"), ("PB15_c1", "PB15_c6"), ("PB36", "PB28"), ("PB28", "PB29")],
)
def test_blues_stand_in_the_order_painters_know(greener: str, redder: str) -> None:
    assert turn(tint_of_lightness(greener, 70), tint_of_lightness(redder, 70)) > 1.0
    assert turn(tint(greener), tint(redder)) > 1.0


def test_bluish_phthalo_green_is_bluer_than_the_yellowish() -> None:
    assert turn(tint_of_lightness("PG36", 70), tint_of_lightness("PG7", 70)) > 5.0


@pytest.mark.parametrize("phthalo", ["PB15:1", "PB15:3", "PB15:6", "PG7"])
@pytest.mark.parametrize("mineral", ["PB29", "PB28", "PB36"])
def test_phthalos_tint_several_times_stronger_than_mineral_blues(
    phthalo: str, mineral: str
) -> None:
    """In tints of a tenth, at the band where each absorbs most."""
    a, b, white = optics(phthalo), optics(mineral), optics("PW6")

    def depth(found: PigmentOptics) -> float:
        K_mix, S_mix = 0.1 * found.K + 0.9 * white.K, 0.1 * found.S + 0.9 * white.S
        return float((K_mix / S_mix)[WAVELENGTHS_NM > 430.0].max())

    assert depth(a) > 2.0 * depth(b)


# Yellows and the greens they make.


@pytest.mark.parametrize(("greener", "redder"), [("PY3", "PY74"), ("PY74", "PY83")])
def test_yellows_stand_from_greenish_to_reddish(greener: str, redder: str) -> None:
    assert turn(lab(**{redder: 1}), lab(**{greener: 1})) > 4.0
    assert turn(tint(redder), tint(greener)) > 4.0


def test_lemon_with_phthalo_makes_cleaner_green_than_diarylide_with_ultramarine() -> None:
    """At each pair's best: the most chromatic mixture that is a green."""

    def best_green(yellow: str, blue: str) -> float:
        mixtures = [lab(**{yellow: 1.0 - s, blue: s}) for s in np.geomspace(0.01, 0.9, 40)]
        return max((chroma(m) for m in mixtures if 110.0 < hue(m) < 170.0), default=0.0)

    assert best_green("PY3", "PB15_c3") > best_green("PY83", "PB29") + 20.0


def test_arylide_yellow_with_a_little_bone_black_turns_green() -> None:
    yellow, greened = lab(PY74=1), lab(PY74=4, PBk9=1)
    assert turn(yellow, greened) > 8.0
    assert greened[1] < 0.0 and chroma(greened) > 25.0


def test_white_two_arylides_and_phthalo_green_make_a_light_bright_yellow_green() -> None:
    colour = lab(PW6=4, PY3=4, PY74=2, PG7=0.5)
    assert colour[0] > 70.0 and chroma(colour) > 45.0 and 105.0 < hue(colour) < 150.0


# Whites and hiding.


def test_titanium_white_hides_and_lightens_more_than_zinc() -> None:
    assert hiding("PW6") > hiding("PW4") + 0.02
    assert lab(PB29=1, PW6=4)[0] > lab(PB29=1, PW4=4)[0] + 5.0


OPAQUE = ["PR108", "PY35", "PO20", "PG17", "PBk11", "PR101"]
TRANSPARENT = ["PY150", "PR83", "PB60", "PG18", "PV19"]
# They absorb so much where the eye sees best that they hide by darkness in all but thin films.
DARK = ("PB60", "PR83", "PV19")
# A usual drawdown, a brushed coat of two fifths of it, and paint rubbed out to a hundredth.
FULL, BRUSHED, RUBBED = DRAWDOWN_FILM, 0.4 * DRAWDOWN_FILM, 0.01 * DRAWDOWN_FILM
# Below this the white itself absorbs, and no curve is well known.
KNOWN = WAVELENGTHS_NM >= 410.0


def test_titanium_white_hides_a_full_film() -> None:
    assert hiding("PW6", FULL) > 0.98


@pytest.mark.parametrize("ref", OPAQUE)
def test_opaque_pigments_hide(ref: str) -> None:
    # The published scattering of cadmium orange gives 0.93; a harder bound would deny it.
    assert hiding(ref, FULL) > 0.90


@pytest.mark.parametrize("ref", [ref for ref in TRANSPARENT if ref != "PB60"])
def test_transparent_pigments_leave_the_ground_to_show(ref: str) -> None:
    assert hiding(ref, BRUSHED) < 0.75


@pytest.mark.parametrize("transparent", TRANSPARENT)
@pytest.mark.parametrize("opaque", OPAQUE)
def test_a_thin_film_of_an_opaque_pigment_shows_itself_over_black(
    opaque: str, transparent: str
) -> None:
    """Hiding by scattering, which a dark pigment's mere darkness can't stand in for."""

    def over_black(ref: str) -> float:
        found = optics(ref)
        return float(film_reflectance(found.K, found.S, RUBBED, 0.0)[KNOWN].max())

    if opaque != "PBk11":  # itself black
        assert over_black(opaque) > 2.0 * over_black(transparent)
    if transparent not in DARK:
        assert hiding(opaque, RUBBED) > hiding(transparent, RUBBED)


# Darks and dulls.


@pytest.mark.parametrize("brown", ["PBr7_burnt-sienna", "PR101"])
def test_burnt_sienna_and_ultramarine_make_a_dark_near_neutral(brown: str) -> None:
    best = min(
        (lab(**{brown: share, "PB29": 1.0 - share}) for share in np.linspace(0.1, 0.9, 33)),
        key=chroma,
    )
    assert best[0] < 32.0 and chroma(best) < 5.0


def test_phthalo_green_and_quinacridone_magenta_make_a_dark_near_neutral() -> None:
    best = min(
        (lab(PG7=share, PR122=1.0 - share) for share in np.linspace(0.1, 0.9, 33)), key=chroma
    )
    assert best[0] < 30.0 and chroma(best) < 5.0


def test_cadmium_red_and_ultramarine_are_far_duller_than_rose_and_ultramarine() -> None:
    for white in (2.0, 4.0, 8.0):
        dull = lab(PR108=1, PB29=1, PW6=white)
        clean = lab(PV19_gamma=1, PB29=1, PW6=white)
        assert chroma(clean) > chroma(dull) + 10.0


def test_carbon_black_tints_stronger_than_bone_black() -> None:
    assert strength("PBk7", "PBk9") > 1.5


# Permanence.


def test_alizarin_is_fugitive_and_the_workshop_staples_are_not() -> None:
    register = load()
    assert register.resolve("PR83")[0].is_fugitive("oil")
    for code in ("PV19", "PB15:3", "PB29", "PW6"):
        for binder in ("acrylic", "oil", "watercolour"):
            assert not register.resolve(code)[0].is_fugitive(binder), (code, binder)
