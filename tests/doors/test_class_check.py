"""Is this box ready, whoever asks and however."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.doors.conftest import Doors
from tubewise.advice.classroom.check import check
from tubewise.advice.plain import plain
from tubewise.sheets import class_report

CHECK = ("check", "list.csv", "--boxes", "boxes.csv", "--catalogue", "catalogue.csv")


def verdicts(answer: Any) -> list[list[str]]:
    return [[slot["verdict"] for slot in seat["slots"]] for seat in answer["seats"]]


@pytest.mark.slow
def test_a_kept_measurement_settles_the_form_for_every_door(doors: Doors) -> None:
    answer = check(doors.workshop)
    assert answer.seats[0].slots[1].verdict == "right pigment"
    assert answer.seats[1].slots[1].verdict == "check the form"
    told = verdicts(plain(answer))
    assert verdicts(doors.command_json(*CHECK, status=1)) == told
    assert verdicts(doors.web_json("check")) == told
    assert verdicts(class_report.data(answer)) == told


def test_the_printed_reports_say_what_the_check_says(doors: Doors) -> None:
    want = "right pigment Marlow Reed Quinacridone"
    assert want in doors.printed("class", *CHECK[1:])
    assert want in doors.web_sheet("class-report")
    page = doors.page("/class/seat", seat="1")
    assert re.search(r"<i>right pigment</i>: .*Marlow Reed Quinacridone", page)


@pytest.mark.slow
def test_the_whole_check_is_one_answer_in_json(doors: Doors) -> None:
    answer = plain(check(doors.workshop))
    by_command = doors.command_json(*CHECK, status=1)
    # A file's list is named after the file, the store's as it was kept.
    assert doors.web_json("check") == answer
    assert by_command["seats"] == answer["seats"]
    assert by_command["summary"] == answer["summary"]
