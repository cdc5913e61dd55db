"""What is left out comes back near enough, and as near as the intervals say."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from tools.accuracy.checks import ALONE, KINDS, PAIR, PAIR_WHITE, TINT, Check, checks
from tools.accuracy.leave_out import left_out, measured_pigments
from tools.accuracy.oil_mixtures import Foretold, foretold, with_black
from tools.accuracy.report import by_pigment, oil_table, recollection, summary
from tools.accuracy.verdicts import Verdict, verdict_table, verdicts
from tools.fit.facts import read_facts
from tools.pictures.accuracy_picture import draw

pytestmark = pytest.mark.slow

FACTS = read_facts()


@pytest.fixture(scope="module")
def found() -> list[Check]:
    return list(checks(left_out(FACTS), measured_pigments(FACTS)))


@pytest.fixture(scope="module")
def pairs() -> list[Verdict]:
    return list(verdicts(left_out(FACTS), measured_pigments(FACTS)))


def test_verdicts_are_right_where_the_tool_says_that_it_is_sure(pairs: list[Verdict]) -> None:
    sure = [v.right for v in pairs if not v.torn]
    torn = [v.right for v in pairs if v.torn]
    assert np.mean(sure) >= 0.9 and len(torn) < len(sure) / 3
    # It does not say so for nothing.
    assert np.mean(torn) < 0.8
    assert "where the tool is sure" in verdict_table(pairs)


@pytest.fixture(scope="module")
def oils() -> list[Foretold]:
    return list(foretold())


def of(found: Sequence[Check], kind: str, *sources: str) -> list[Check]:
    return [c for c in found if c.kind == kind and (not sources or c.source in sources)]


@pytest.mark.parametrize(("kind", "bound"), [(TINT, 2.5), (PAIR, 4.0), (PAIR_WHITE, 4.5)])
def test_acrylics_left_out_come_back(found: list[Check], kind: str, bound: float) -> None:
    assert np.median([c.miss for c in of(found, kind, "acrylics")]) <= bound


@pytest.mark.parametrize(("kind", "bound"), [(TINT, 3.3), (PAIR, 4.0), (PAIR_WHITE, 4.5)])
def test_all_that_are_left_out_come_back(found: list[Check], kind: str, bound: float) -> None:
    assert np.median([c.miss for c in of(found, kind)]) <= bound


@pytest.mark.parametrize("kind", KINDS)
def test_intervals_hold_what_was_left_out(found: list[Check], kind: str) -> None:
    held = np.mean([c.holds for c in of(found, kind)])
    assert 0.88 <= held <= 0.98
    assert np.median([c.radius for c in of(found, kind)]) <= (8.0 if kind == ALONE else 7.0)


def test_mixtures_of_the_old_oils_with_bone_black(oils: list[Foretold]) -> None:
    black = [f for f in oils if with_black(f)]
    assert len(black) == 10
    assert np.median([f.free for f in black]) <= 2.5
    assert np.median([v for f in black for v in (f.black, f.white)]) <= 4.0


def test_the_report_names_every_pigment_and_every_kind(
    found: list[Check], oils: list[Foretold]
) -> None:
    truths = measured_pigments(FACTS)
    text = "\n".join(
        (summary(found), by_pigment(found), recollection(FACTS, truths), oil_table(oils))
    )
    assert all(f"| {ref} |" in text for ref in truths)
    assert all(kind in text for kind in KINDS)
    assert "with bone black" in text


def test_the_picture_is_drawn_from_the_checks(found: list[Check]) -> None:
    drawn = draw(found)
    assert drawn.startswith("<svg") and drawn.count("<circle") > 500
