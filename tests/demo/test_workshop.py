"""The demo workshop through the whole check: what a teacher expects of each seat."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.verdicts import VERDICTS
from tubewise.cli.main import main
from tubewise.demo.titles import TITLES
from tubewise.demo.workshop import folder, opened, run
from tubewise.errors import UserError
from tubewise.sheets.class_page import class_page

# The whole check of twelve seats, by every door.
pytestmark = pytest.mark.slow

RIGHT, STAND_IN, FORM, MIX, WRONG, MISSING = VERDICTS

SLOTS = (
    "Titanium white",
    "Permanent rose",
    "Dioxazine violet",
    "Ultramarine",
    "Phthalo blue green shade",
    "Phthalo green blue shade",
    "Lemon yellow",
    "Cadmium red",
    "Burnt sienna",
    "Spring green",
)

# What a teacher may say of each seat's slots, the rest being right pigments; see demo/README.md.
EXPECTED: dict[str, dict[str, set[str]]] = {
    "1": {},
    "2": {"Spring green": {MIX}},
    "3": {"Permanent rose": {FORM}, "Phthalo blue green shade": {FORM}, "Spring green": {MIX}},
    "4": {"Permanent rose": {WRONG}, "Cadmium red": {WRONG}, "Spring green": {MIX}},
    "5": {
        "Permanent rose": {STAND_IN, WRONG},
        "Cadmium red": {STAND_IN, MIX},
        "Spring green": {STAND_IN, MIX},
    },
    "6": {
        "Permanent rose": {STAND_IN, MIX},
        "Phthalo blue green shade": {STAND_IN, MIX, MISSING},
        "Phthalo green blue shade": {STAND_IN, MIX, MISSING},
        "Lemon yellow": {STAND_IN},
        "Cadmium red": {STAND_IN, MIX},
        "Spring green": {MIX},
    },
    "8": {slot: {MISSING} for slot in SLOTS},
    "9": {
        "Phthalo blue green shade": {MISSING},
        "Lemon yellow": {MISSING},
        "Burnt sienna": {MISSING},
        "Spring green": {MISSING},
    },
    "10": {"Permanent rose": {FORM}, "Ultramarine": {FORM}, "Spring green": {MIX}},
    "12": {"Spring green": {MIX}},
}


@pytest.fixture(scope="module")
def workshop() -> ClassCheck:
    return run()


@pytest.mark.parametrize("seat", EXPECTED)
def test_each_seat_is_judged_as_a_teacher_would(workshop: ClassCheck, seat: str) -> None:
    found = next(s for s in workshop.seats if s.seat == seat)
    said = {s.slot: s.verdict for s in found.slots}
    for slot, verdict in said.items():
        assert verdict in EXPECTED[seat].get(slot, {RIGHT}), (slot, verdict)


def test_all_six_verdicts_come_up(workshop: ClassCheck) -> None:
    said = {slot.verdict for seat in workshop.seats for slot in seat.slots}
    assert said == set(VERDICTS)


def test_every_slot_has_a_reason_and_something_to_do(workshop: ClassCheck) -> None:
    for seat in workshop.seats:
        assert len(seat.slots) == 10
        for slot in seat.slots:
            assert slot.do and slot.reasons


def test_the_teacher_learns_who_is_ready_what_to_buy_and_what_to_show_with_care(
    workshop: ClassCheck,
) -> None:
    summary = workshop.summary
    assert "1" in summary.ready and "8" not in summary.ready
    ((currency, total),) = summary.shopping.totals
    assert currency == "EUR"
    assert total == pytest.approx(sum(line.cost or 0.0 for line in summary.shopping.lines))
    assert len(summary.mixes) == 6
    assert all(len(mix.seats) == 12 for mix in summary.mixes)


def test_the_page_stands_alone(workshop: ClassCheck) -> None:
    page = class_page(workshop)
    for verdict in VERDICTS:
        assert verdict in page
    assert "http" not in page and "<script" not in page and "src=" not in page


@pytest.mark.slow
def test_the_command_exits_0_writes_both_files_and_touches_no_store(
    workshop: ClassCheck,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr("tubewise.demo.workshop.run", lambda progress, name: workshop)
    store = tmp_path / "store.sqlite3"
    monkeypatch.setenv("TUBEWISE_DB", f"sqlite:///{store}")
    for words in (["demo", "--out", str(tmp_path / "out")], ["demo", "--json"]):
        monkeypatch.setattr(sys, "argv", ["tubewise", *words])
        with pytest.raises(SystemExit) as stop:
            main()
        assert stop.value.code in (0, None)
        printed = capsys.readouterr().out
    assert not store.exists()
    written = json.loads((tmp_path / "out" / "class-check.json").read_text(encoding="utf-8"))
    assert written == json.loads(printed)
    assert (tmp_path / "out" / "class-check.html").stat().st_size < 1_000_000


def test_a_workshop_that_does_not_exist_is_refused_with_those_that_do() -> None:
    with pytest.raises(UserError, match="acrylic"):
        folder("charcoal")


@pytest.mark.parametrize("name", TITLES)
def test_every_workshop_has_a_list_boxes_and_a_shop(name: str) -> None:
    workshop = opened(name.upper())
    assert workshop.supply.name == TITLES[name]
    assert workshop.supply.mixes and workshop.boxes and workshop.catalogue
