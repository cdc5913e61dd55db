from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.measure.synthetic_drawdowns import files, masstone_and_tints, paint, white
from tubewise.errors import UserError
from tubewise.measure import attach
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.measured import MeasuredOptics, from_json
from tubewise.measure.references import Optics
from tubewise.measure.spectra import Conditions
from tubewise.store.store import Store

TUBE = "marlow-studio-oil-rose-37ml"


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "store.sqlite") as opened:
        yield opened


@pytest.fixture(scope="module")
def optics() -> MeasuredOptics:
    rows = masstone_and_tints(paint(np.random.default_rng(4)), (2, 9))
    white_ = Optics(white().K, white().S, "the white")
    found = learn(drawdown_set(files(rows)), tube=TUBE, white=white_)
    return replace(
        found,
        conditions=Conditions("Bench 3", "2026-03-01T10:00", "d/8", "included", "M1", "", "black"),
    )


def test_what_is_attached_comes_back_to_the_last_bit(store: Store, optics: MeasuredOptics) -> None:
    kept = attach.attach(store, optics)
    assert (kept.tube, kept.version, kept.withdrawn) == (TUBE, 1, False)
    found = attach.current(store, TUBE)
    assert found is not None and found.optics.to_json() == optics.to_json()
    assert attach.measured_optics(store)[TUBE].to_json() == optics.to_json()
    (row,) = store.measurements(TUBE)
    assert row.measured_on == datetime.date(2026, 3, 1)
    assert row.instrument == "Bench 3"
    assert row.conditions == "specular included, d/8, M1, backing black"


def test_versions_follow_each_other_and_withdrawals_are_undone(
    store: Store, optics: MeasuredOptics
) -> None:
    attach.attach(store, optics)
    second = attach.attach(store, replace(optics, K=optics.K * 2))
    assert second.version == 2
    assert attach.withdraw(store, TUBE).version == 2
    found = attach.current(store, TUBE)
    assert found is not None and found.version == 1
    assert [v.withdrawn for v in attach.history(store, TUBE)] == [False, True]
    assert attach.history(store, TUBE)[1].words.endswith("(withdrawn)")
    with pytest.raises(UserError, match="withdrawn already"):
        attach.withdraw(store, TUBE, 2)
    assert not attach.reinstate(store, TUBE, 2).withdrawn
    found = attach.current(store, TUBE)
    assert found is not None and found.version == 2
    with pytest.raises(UserError, match="no withdrawn version 2"):
        attach.reinstate(store, TUBE, 2)


def test_export_reads_back(store: Store, optics: MeasuredOptics) -> None:
    attach.attach(store, optics)
    assert from_json(attach.export(store, TUBE)).to_json() == optics.to_json()
    assert attach.export(store, TUBE, 1) == optics.to_json()
    with pytest.raises(UserError, match="no measurement number 7"):
        attach.export(store, TUBE, 7)


def test_tubes_never_measured(store: Store, optics: MeasuredOptics) -> None:
    assert attach.current(store, "other") is None and attach.history(store, "other") == ()
    with pytest.raises(UserError, match="no measurement in use"):
        attach.withdraw(store, "other")
    with pytest.raises(UserError, match="names no tube"):
        attach.attach(store, replace(optics, tube=""))


def test_a_measurement_drives_the_shelf(store: Store, optics: MeasuredOptics) -> None:
    from tubewise.paints.shelf import Shelf
    from tubewise.tubes.tube import Tube

    attach.attach(store, optics)
    tube = Tube(id=TUBE, name="Rose", label="PV19")
    paint_ = Shelf([tube], attach.measured_optics(store)).tube(tube)
    assert paint_ is not None and paint_.basis == "measured"
    assert np.array_equal(paint_.K[0], optics.K)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-03-01T10:00:00Z", (2026, 3, 1)),
        ("2026/3/1", (2026, 3, 1)),
        ("1 March 2026", (2026, 3, 1)),
        ("March 1, 2026 10:15", (2026, 3, 1)),
        ("01.03.2026", (2026, 3, 1)),
        ("13/02/2026", (2026, 2, 13)),
        ("02/13/2026", (2026, 2, 13)),
        ("02/03/2026", None),
        ("2026-13-45", None),
        ("yesterday", None),
        ("", None),
    ],
)
def test_days_that_cannot_be_mistaken(text: str, day: tuple[int, int, int] | None) -> None:
    assert attach.day_of(text) == (None if day is None else datetime.date(*day))
