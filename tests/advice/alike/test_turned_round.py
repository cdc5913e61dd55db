"""A against B is B against A, turned round; and words and verdict never contradict one another."""

from __future__ import annotations

import csv

import numpy as np
import pytest

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.compare import PARTNERS, Compared, companies, compare, contents
from tubewise.advice.alike.difference import Difference
from tubewise.advice.alike.identity import identity
from tubewise.advice.alike.judgement import judge, judge_in_use
from tubewise.advice.alike.strength import strength_factor
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.words import seen_words
from tubewise.paints.appearance import lab_alone
from tubewise.paints.shelf import Shelf
from tubewise.pigments import models
from tubewise.pigments.density import volume_parts
from tubewise.pigments.models import DATA
from tubewise.pigments.register import load
from tubewise.pigments.trust import MODELLED

SHELF = Shelf()


def _pairs(count: int) -> list[tuple[str, str]]:
    """Pairs from all over the register, half of them near one another alone."""
    refs = [ref for pigment in load() for ref in pigment.refs]
    rng = np.random.default_rng(7)
    pairs = []
    for n in range(count):
        a = refs[rng.integers(len(refs))]
        others = [r for r in refs if r != a]
        if n % 2:
            some = [others[i] for i in rng.integers(len(others), size=25)]
            here = lab_alone(SHELF.pigment(a))[0]
            b = min(some, key=lambda r: float(delta_e_2000(lab_alone(SHELF.pigment(r))[0], here)))
        else:
            b = others[rng.integers(len(others))]
        pairs.append((str(a), str(b)))
    return pairs


PAIRS = _pairs(40)


def _situations(seen: Compared) -> tuple[Difference, ...]:
    films = (seen.masstone, seen.undertone, seen.over_black)
    return (*(d for d in films if d is not None), *seen.tints, *seen.mixes)


@pytest.mark.slow
@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_a_against_b_is_b_against_a_turned_round(a: str, b: str) -> None:
    there, back = compare(a, b, SHELF), compare(b, a, SHELF)
    assert (there.step, there.close_call, there.swatch) == (back.step, back.close_call, back.swatch)
    assert there.parts_for_one * back.parts_for_one == pytest.approx(1.0, rel=0.01)
    for one, other in zip(_situations(there), _situations(back), strict=True):
        assert (one.a, one.b) == (other.b, other.a)
        assert one.delta_e00 == other.delta_e00 and one.high == other.high
        assert one.hue_shift_deg == -other.hue_shift_deg
        assert one.chroma_shift == -other.chroma_shift
        for word, opposite in (("lighter", "darker"), ("cleaner", "duller"), ("warmer", "cooler")):
            assert (word in one.words) == (opposite in other.words)


@pytest.mark.slow
@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_words_and_verdict_agree(a: str, b: str) -> None:
    seen = compare(a, b, SHELF)
    for d in _situations(seen):
        assert d.words.endswith(seen_words(d.delta_e00)) or abs(d.delta_e00 % 1.0) < 0.02
        assert ("another colour" in d.words) == d.another or abs(d.delta_e00 - 5.0) < 0.02
        assert d.words.startswith(b) or d.words == "the same to the eye"
    if seen.step == "yes":
        assert "another colour" not in seen.verdict and "you would see it;" not in seen.verdict
    if seen.step == "no":
        # Not every use need be another colour, but on the whole it is.
        assert "another colour" in seen.verdict
        assert np.mean([u.delta_e00 for u in seen.uses]) >= 4.99


@pytest.mark.parametrize(("a", "b"), PAIRS[:20])
def test_what_a_class_is_told_agrees_with_a_comparison(a: str, b: str) -> None:
    first, second = SHELF.pigment(a), SHELF.pigment(b)
    mates = companies(SHELF, PARTNERS, SHELF.setting())
    seen = compare_behaviour(first, second, SHELF.setting(), mates)
    same = identity(contents(first), contents(second))
    slot, counter = judge(same, first, second, seen), judge_in_use(same, first, second, seen)
    assert slot.step == counter.step and slot.verdict == counter.verdict
    if slot.does:
        # What may take a tube's place in a lesson is never called another colour at the counter.
        assert counter.step != "no" and "another colour" not in counter.verdict
    elif counter.step != "no":
        # And where it only fails in part, the class is told where.
        assert any(r.startswith(("it would do elsewhere", "it is too weak")) for r in slot.reasons)
        assert not any("neither" in reason for reason in slot.reasons)


def test_the_second_is_the_subject() -> None:
    seen = compare("PV19/gamma", "PR209", SHELF)
    assert seen.masstone.words.startswith("PR209 is ")
    assert compare("PR209", "PV19/gamma", SHELF).masstone.words.startswith("PV19/gamma is ")


def _shares() -> dict[str, tuple[float, float, float]]:
    """Parts by volume in white that the register recalls for L* 70, chroma and hue of that tint."""
    facts: dict[str, dict[str, list[float]]] = {}
    with (DATA / "optics_facts.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            if row["fact"] in ("share_L70", "tint_L70"):
                facts.setdefault(row["ref"], {})[row["fact"]] = [
                    float(v) for v in row["value"].split()
                ]
    found = {}
    for ref, known in facts.items():
        if len(known) == 2:
            mass = known["share_L70"][0]
            own, white = volume_parts([ref, "PW6"], [mass, 1.0 - mass])
            chroma, hue = known["tint_L70"]
            found[ref] = (float(own / white), chroma, hue)
    return found


def test_strengths_agree_with_the_shares_that_the_register_recalls() -> None:
    shares = _shares()
    rng = np.random.default_rng(0)
    refs = [r for r in sorted(shares) if models.optics(r).basis == MODELLED]
    ratios: list[float] = []
    recalled: list[float] = []
    while len(ratios) < 40:
        a, b = (refs[i] for i in rng.integers(len(refs), size=2))
        (part_a, C_a, h_a), (part_b, C_b, h_b) = shares[a], shares[b]
        turn = abs((h_a - h_b + 180.0) % 360.0 - 180.0)
        # Only tints of one colour have a strength beside each other that one number tells.
        if a == b or C_a < 8.0 or abs(C_a - C_b) > 4.0 or turn > 6.0:
            continue
        first, second = SHELF.pigment(a), SHELF.pigment(b)
        ratios.append(float(strength_factor(first, second, SHELF.setting())[0]))
        recalled.append(part_b / part_a)
    off = np.abs(np.log(np.array(ratios) / recalled))
    # A recalled share is good to a factor of 1.6 (see docs/accuracy.md).
    assert np.percentile(off, 90) < np.log(1.6)
    clear = np.abs(np.log(recalled)) > np.log(1.6)
    assert clear.sum() >= 4
    assert (np.sign(np.log(ratios)) == np.sign(np.log(recalled)))[clear].all()
