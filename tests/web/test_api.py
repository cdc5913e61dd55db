"""The JSON side: the same answers as the functions give, and faults as words."""

from __future__ import annotations

import json

import pytest

from tests.web.conftest import Visitor
from tubewise.advice.counter.label import read_label
from tubewise.advice.plain import to_json

ROSE = "thornquay-wherry-acrylic-permanent-rose-60ml"


def test_a_label_as_the_command_line_reads_it(reader: Visitor) -> None:
    answer = reader.client.get("/api/label", params={"text": "PV19, PB 153", "name": "Violet"})
    assert answer.json() == json.loads(to_json(read_label("PV19, PB 153", "Violet")))


def test_tubes_in_pages(reader: Visitor) -> None:
    answer = reader.client.get("/api/tubes?code=PV19&limit=3&offset=2").json()
    assert len(answer["tubes"]) == 3 and answer["total"] > 5 and answer["offset"] == 2
    assert reader.client.get("/api/tubes?code=zz").status_code == 422
    assert reader.client.get("/api/tubes?limit=0").status_code == 422


def test_one_tube(reader: Visitor) -> None:
    answer = reader.client.get(f"/api/tubes/{ROSE}").json()
    assert answer["pigments"] == ["PV19/gamma"] and len(answer["strip"]["tints"]) == 4
    assert reader.client.get("/api/tubes/nope").json()["error"]


def test_compare_mix_and_names(reader: Visitor) -> None:
    two = reader.client.get("/api/compare", params={"a": ROSE, "b": "PR209", "with": "PB29"}).json()
    assert two["identity"] == "different pigments" and len(two["mixes"]) == 1
    mixed = reader.client.get(
        "/api/mix", params={"part": ["PV19=1", "PW6=4"], "film": "thin"}
    ).json()
    assert len(mixed["spectrum"]["reflectance"]) == 36
    assert reader.client.get("/api/names").json()["hue_names"]
    assert reader.client.get("/api/compare", params={"a": "x", "b": "PR209"}).status_code == 422


@pytest.mark.slow
def test_stand_ins_from_a_box(reader: Visitor) -> None:
    answer = reader.client.get("/api/standin", params={"tube": "PR122", "box": "Moor\n1"}).json()
    assert answer["pigments"] == ["PR122"]


def test_it_describes_itself(reader: Visitor) -> None:
    description = reader.client.get("/api/openapi.json").json()
    assert "/api/compare" in description["paths"]
    assert "/tubes" not in description["paths"]
    assert "/api/compare" in reader.get("/api")
