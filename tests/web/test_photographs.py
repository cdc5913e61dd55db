"""Photographs are sent, read outside the request, looked over, and kept as a box."""

from __future__ import annotations

import re
import time
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from tests.web.conftest import Visitor
from tools.photographs.invented_labels import label
from tools.photographs.tube_pictures import plain_photograph
from tubewise.advice.counter.label import read_label
from tubewise.advice.photographs.labels import PhotographAnswer, TubeSeen
from tubewise.tubes.catalogue import read_boxes
from tubewise.web.pages import photographs


def test_the_form_offers_the_camera_and_files(reader: Visitor) -> None:
    form = reader.get("/photographs")
    assert 'capture="environment"' in form and "multiple" in form
    assert "nowhere else" in form


def test_without_the_extra_the_page_says_what_to_install(
    reader: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photographs, "has_photos", lambda: False)
    form = reader.get("/photographs")
    assert (
        "pip install &#39;tubewise[photos]&#39;" in form and "<form" not in form.split("<main")[1]
    )


@pytest.mark.slow
def test_what_is_no_picture_is_told_in_a_sentence(owner: Visitor) -> None:
    sent = owner.send("/photographs", files=[("files", ("tube.jpg", b"words, not pixels"))])
    told = _read(owner, sent.headers["location"], status=422)
    assert "no picture" in told
    refused = owner.send("/photographs", status=422, files=[("files", ("tube.txt", b"x"))])
    assert "not read here" in refused.text


def test_an_unknown_photograph_is_not_here(reader: Visitor) -> None:
    reader.get("/photographs/nobody", status=404)
    reader.get("/photographs/kept/99.jpg", status=404)


@pytest.mark.slow
def test_a_tube_goes_from_its_photograph_into_a_box(owner: Visitor, tmp_path: Path) -> None:
    made = label(11, 3, 2.0)
    shot = plain_photograph(made)
    sent = owner.send(
        "/photographs?seat=4&boxes=Moor", files=[("files", ("tube.jpg", shot, "image/jpeg"))]
    )
    place = sent.headers["location"]
    shown = _read(owner, place)
    assert all(code in shown for code in made.codes) and made.name in shown
    source = re.findall(r'<img class="photo" src="([^"]+)"', shown)[0]
    assert owner.client.get(source).headers["content-type"] == "image/jpeg"
    key = place.split("?")[0]
    ticked: dict[str, Any] = {"t0.keep": "1", "t0.name": "Mine"}
    kept = owner.send(f"{key}/keep", boxes="Moor", seat="4", pictures="1", **ticked)
    assert "seat 4" in owner.follow(kept).casefold()
    seat = owner.get("/class/boxes?boxes=Moor&seat=4")
    assert "Mine" in seat and all(code in seat for code in made.codes)
    file = tmp_path / "boxes.csv"
    file.write_text(owner.get("/class/boxes.csv?boxes=Moor"), encoding="utf-8")
    [tube] = next(box.tubes for box in read_boxes(file) if box.seat == "4")
    page = owner.get(f"/tubes/{tube.id}")
    [picture] = re.findall(r'src="(/photographs/kept/\d+\.jpg)"', page)
    assert owner.client.get(picture).status_code == 200
    removed = owner.send(picture.removesuffix(".jpg") + "/remove")
    assert picture not in owner.get(f"/tubes/{tube.id}") and "Undo" in owner.follow(removed)
    owner.send(picture.removesuffix(".jpg") + "/restore")
    assert picture in owner.get(f"/tubes/{tube.id}")


@pytest.mark.slow
def test_a_bad_picture_among_several_is_named_and_the_others_are_read(owner: Visitor) -> None:
    made = label(11, 3, 2.0)
    good = ("files", ("tube.jpg", plain_photograph(made), "image/jpeg"))
    bad = ("files", ("table.jpg", b"words, not pixels", "image/jpeg"))
    sent = owner.send("/photographs?seat=4&boxes=Moor", files=[bad, good])
    shown = _read(owner, sent.headers["location"])
    assert "table.jpg: This is no picture" in shown and made.name in shown


def _read(owner: Visitor, place: str, status: int = 200) -> str:
    """The page once the photographs are read."""
    for _ in range(600):
        answer = owner.client.get(place)
        if "Reading the photographs" not in answer.text:
            assert answer.status_code == status, answer.text[:1500]
            return str(answer.text)
        time.sleep(0.1)
    raise AssertionError(f"{Path(place).name} was not read in time")


@pytest.mark.slow
def test_tubes_join_the_box_of_a_seat_however_it_is_written(
    owner: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    owner.send("/class/boxes", boxes="Moor", seat="Seat A", tubes="Mystery | PB29")
    seen = TubeSeen(label=read_label("Rose PV19", "Rose"), corners=(), doubts=())
    answer = PhotographAnswer(photograph="a.jpg", width=9, height=9, tubes=(seen,))
    job = SimpleNamespace(answer=(answer,), error=None, kept=[])
    monkeypatch.setattr(photographs, "_jobs", lambda _: SimpleNamespace(job=lambda _: job))
    ticked: dict[str, Any] = {"t0.keep": "1", "t0.name": "Rose"}
    owner.send("/photographs/any/keep", boxes="Moor", seat="seat  a", **ticked)
    shown = owner.get("/class/boxes?boxes=Moor&seat=Seat+A")
    assert "Mystery | PB29" in shown and "Rose | Rose PV19" in shown
    # A form that is sent twice is kept once.
    owner.send("/photographs/any/keep", boxes="Moor", seat="seat a", **ticked)
    again = owner.get("/class/boxes?boxes=Moor&seat=Seat+A")
    assert again.count("Rose | Rose PV19") == 1
