"""Families of pigments that scatter alike, before and after their measured members."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tools.fit.facts import Fact
from tools.fit.families import (
    N_HABITS,
    SHARED,
    Seen,
    read_families,
    shared_numbers,
    with_own_level,
)
from tubewise.errors import UserError
from tubewise.pigments.curves import BELOW, LEVEL, PEAK
from tubewise.pigments.register import load

FAMILIES = read_families()
CADMIUM = FAMILIES.of("PR108/medium")


def seen(scatter: np.ndarray, habits: tuple[float, float, float] = (0.0, 0.0, 0.0)) -> Seen:
    """A measured member."""
    return Seen(scatter=scatter, habits=np.array(habits))


def test_every_pigment_has_a_family() -> None:
    assert all(FAMILIES.of(ref).name for ref in load().refs)
    assert FAMILIES.of("PY42/transparent").name != FAMILIES.of("PY42/opaque").name


def test_a_family_moves_half_way_to_one_measured_member_and_further_to_many() -> None:
    level = np.exp(CADMIUM.middle[0])
    member = CADMIUM.scatter((590.0, 12.0))
    member[LEVEL] = 4.0 * level
    one = FAMILIES.learnt({"PR108/light": seen(member)}).of("PR108/medium")
    two = FAMILIES.learnt({"PR108/light": seen(member), "PO20/medium": seen(member)}).of(
        "PR108/medium"
    )
    assert np.exp(one.middle[0]) == pytest.approx(2.0 * level)
    assert np.exp(two.middle[0]) == pytest.approx(4.0 ** (2.0 / 3.0) * level)
    assert two.spread[0] < one.spread[0] < CADMIUM.spread[0]
    assert two.measured == ("PO20/medium", "PR108/light")


def test_akin_families_learn_everything_but_the_level() -> None:
    member = CADMIUM.scatter((590.0, 12.0))
    member[[LEVEL, PEAK]] *= 2.0
    after = FAMILIES.learnt({"PR108/light": seen(member)})
    akin = next(f for f in after.by_name.values() if f.akin == CADMIUM.akin and f.name != "cadmium")
    before = FAMILIES.by_name[akin.name]
    assert akin.middle[0] == before.middle[0]
    assert akin.middle[SHARED.index(PEAK)] > before.middle[SHARED.index(PEAK)]


def test_a_member_without_a_step_says_nothing_of_peaks() -> None:
    flat = CADMIUM.scatter(None)
    assert flat[PEAK] == 0.0 and flat[BELOW] == 1.0
    after = FAMILIES.learnt({"PR108/light": seen(flat)}).of("PR108/medium")
    at = SHARED.index(PEAK)
    assert after.middle[at] == CADMIUM.middle[at]
    assert after.middle[0] == pytest.approx(shared_numbers(flat)[0])


def test_a_family_learns_how_clear_windows_and_how_steep_edges_are() -> None:
    nan = float("nan")
    member = CADMIUM.scatter((590.0, 12.0))
    after = FAMILIES.learnt(
        {
            "PR108/light": seen(member, (-2.0, 0.3, nan)),
            "PO20/medium": seen(member, (-1.0, 0.3, nan)),
        }
    ).of("PR108/medium")
    assert (CADMIUM.habits == 0.0).all() and len(CADMIUM.habits) == N_HABITS
    # Two members and the start, each counting alike; nobody has a band.
    assert after.habits == pytest.approx([-1.0, 0.2, 0.0])


def test_a_stated_level_stands_before_the_family() -> None:
    fact = Fact(ref="PW4", kind="level", value="0.2", tolerance=1.0, source="made up")
    own = with_own_level(CADMIUM, [fact])
    assert np.exp(own.middle[0]) == pytest.approx(0.2) and own.spread[0] == 0.3
    assert with_own_level(CADMIUM, []) is CADMIUM


def test_a_bad_row_is_named(tmp_path: Path) -> None:
    path = tmp_path / "families.csv"
    head = "family,akin,members,level,level_sd,power,below,bronze,peak,fade_nm,source\n"
    path.write_text(head + "reds,,PR1,much,1,1,1,1,1,1,me\n", encoding="utf-8")
    with pytest.raises(UserError, match=r"line 2.*not a number"):
        read_families(path)
