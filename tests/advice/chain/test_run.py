"""Stand-ins for every tube: near ones by an index, judged as a single question would judge them."""

from __future__ import annotations

import os
import signal
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from bench.chain_tubes import chain_tubes
from tubewise.advice.alike.standin import standin
from tubewise.advice.alike.standin_results import StandInWishes
from tubewise.advice.chain import crew, near
from tubewise.advice.chain.hand import Hand
from tubewise.advice.chain.keeping import run_in_store
from tubewise.advice.chain.line import Line
from tubewise.advice.chain.run import Kept, Plan, Run, run
from tubewise.paints.shelf import Shelf
from tubewise.store.kept_standins import kept_standins
from tubewise.store.store import Store
from tubewise.tubes.tube import Tube

TUBES = chain_tubes(48, seed=5)
SINGLE = StandInWishes(most_paints=1)
PLAN = Plan(date="2026-01-31", model="m", wishes=SINGLE, most=2, processes=1)


@pytest.fixture(scope="module")
def found() -> Run:
    return run(TUBES, {}, PLAN)


@pytest.fixture
def few_near(monkeypatch: pytest.MonkeyPatch) -> None:
    """So few are near that a change reaches only some."""
    monkeypatch.setattr(near, "NEAR", 4)


def by_tube(done: Run) -> dict[str, tuple[Line, ...]]:
    return {kept.tube: kept.lines for kept in done.kept}


def as_before(done: Run) -> dict[str, Kept]:
    return {kept.tube: kept for kept in done.kept}


def sold_out(tubes: Sequence[Tube], *numbers: int) -> list[Tube]:
    return [replace(t, stock=0) if n in numbers else t for n, t in enumerate(tubes)]


def test_every_tube_has_its_lines_with_verdict_price_and_date(found: Run) -> None:
    assert list(by_tube(found)) == [tube.id for tube in TUBES]
    stock = {tube.id: tube.stock for tube in TUBES}
    for lines in by_tube(found).values():
        assert [line.rank for line in lines] == list(range(1, len(lines) + 1))
        for line in lines:
            assert line.verdict and line.date == "2026-01-31"
            if line.kind == "tube":
                assert stock[line.instead] != 0 and line.price and line.reason
    assert sum(lines[0].does for lines in by_tube(found).values()) > 5


def test_what_can_harm_is_said_and_defers_to_the_label() -> None:
    lead = [
        Tube(maker=maker, name="Flake White", label="PW1", medium="oil", stock=3)
        for maker in ("Verwick", "Bralmere")
    ]
    (line,) = run(lead, {}, PLAN).kept[0].lines
    assert line.does and line.cautions.startswith("lead") and "safety data sheet" in line.cautions


def test_the_best_is_what_one_question_finds_among_all(found: Run) -> None:
    shelf = Shelf(TUBES)
    for tube in TUBES[::4]:
        answer = standin(tube, TUBES, shelf, most=2, wishes=SINGLE)
        lines = by_tube(found)[tube.id]
        expected = [(s.tube, s.worst_delta_e00) for s in answer.standins]
        assert [
            (line.instead, line.worst_delta_e00) for line in lines if line.kind != "nothing"
        ] == expected


def test_where_nothing_changed_nothing_is_judged(found: Run) -> None:
    again = run(TUBES, {}, PLAN, as_before(found))
    assert again.judged == () and by_tube(again) == by_tube(found)


@pytest.mark.usefixtures("few_near")
def test_only_what_a_change_reaches_is_judged_anew_and_it_is_as_if_all_were() -> None:
    before = as_before(run(TUBES, {}, PLAN))
    changed = sold_out(TUBES, 7)[:-1]
    done = run(changed, {}, PLAN, before)
    assert TUBES[7].id in done.judged
    assert all(TUBES[7].id != line.instead for k in done.kept for line in k.lines)
    assert 0 < len(done.judged) < len(changed) / 2
    assert done.gone == (TUBES[-1].id,)
    assert by_tube(done) == by_tube(run(changed, {}, PLAN))


@pytest.mark.usefixtures("few_near")
def test_what_comes_in_is_offered_at_once_and_a_sale_that_leaves_some_changes_nothing() -> None:
    before = as_before(run(sold_out(TUBES, 7), {}, PLAN))
    sold = [replace(t, stock=t.stock + 1) if t.stock else t for t in sold_out(TUBES, 7)]
    assert run(sold, {}, PLAN, before).judged == ()
    done = run(TUBES, {}, PLAN, before)
    assert by_tube(done) == by_tube(run(TUBES, {}, PLAN))


def test_another_model_judges_all_anew(found: Run) -> None:
    assert len(run(TUBES, {}, replace(PLAN, model="n"), as_before(found)).judged) == len(TUBES)


class StoppedError(Exception):
    """As Ctrl-C would."""


@pytest.mark.usefixtures("few_near")
def test_a_run_that_was_stopped_goes_on_and_ends_as_if_it_had_not_been(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("tubewise.advice.chain.run._KEPT_AT_ONCE", 5)
    before = as_before(run(TUBES, {}, PLAN))
    changed = sold_out(TUBES, 3, 20)
    batches = 0

    def keep(some: Sequence[Kept]) -> None:
        nonlocal batches
        batches += 1
        if batches == 2:
            raise StoppedError
        before.update((kept.tube, kept) for kept in some)

    with pytest.raises(StoppedError):
        run(changed, {}, PLAN, before, keep=keep)
    assert by_tube(run(changed, {}, PLAN, before)) == by_tube(run(changed, {}, PLAN))


def test_the_store_keeps_it_from_run_to_run(tmp_path: Path) -> None:
    some = [*TUBES[:9], Tube(maker="Verwick", name="Nameless")]
    with Store(tmp_path / "store.sqlite3") as store:
        store.import_catalogue(some)
        first = run_in_store(store, PLAN)
        assert len(first.judged) == 10
        assert run_in_store(store, PLAN).judged == ()
        assert len(run_in_store(store, PLAN, anew=True).judged) == 10
        (kept,) = kept_standins(store, [some[-1].id])
        assert kept.lines[0]["kind"] == "nothing" and "no pigments" in kept.lines[0]["verdict"]
        store.delete_tube(some[0].id)
        assert run_in_store(store, PLAN).gone == (some[0].id,)
        assert some[0].id not in {k.tube_id for k in kept_standins(store)}
        again = {k.tube_id: k.lines for k in kept_standins(store)}
    with Store(tmp_path / "store.sqlite3") as store:
        assert {k.tube_id: k.lines for k in kept_standins(store)} == again


def test_of_one_paint_the_cheapest_size_is_found() -> None:
    large = replace(TUBES[0], id="", size_ml=200.0, price=1.0, stock=3)
    done = run([*TUBES, large], {}, PLAN)
    instead = {line.instead for lines in by_tube(done).values() for line in lines}
    assert TUBES[0].id not in instead


@pytest.mark.slow
def test_processes_find_the_same_though_one_is_killed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(crew, "_WORTH_A_HAND", 2)
    monkeypatch.setattr(crew, "_BATCH", 3)
    hired: list[int] = []

    def noted(*words: Any) -> Hand:
        hand = Hand(*words)
        hired.append(hand.pid)
        return hand

    def kill_the_first(done: int, _: int) -> None:
        if done == 1:
            os.kill(hired[0], signal.SIGKILL)

    monkeypatch.setattr("tubewise.advice.chain.crew.Hand", noted)
    many = chain_tubes(120, seed=6)
    done = run(many, {}, replace(PLAN, processes=2), progress=kill_the_first)
    assert len(hired) == 3
    monkeypatch.undo()
    assert by_tube(done) == by_tube(run(many, {}, PLAN))
