"""The bench: parts changed by hand."""

from __future__ import annotations

import time

import pytest

from tests.web.conftest import Visitor


def test_the_bench_mixes_without_scripts(reader: Visitor) -> None:
    page = reader.get(
        "/mixing/bench?target=%23804060&term=PW6&parts=3&term=PV19/gamma&parts=1&more=PB29"
    )
    assert page.count('name="term"') == 3 and "CIEDE2000" in page
    assert "nothing mixed yet" in reader.get("/mixing/bench")


def test_the_bench_answers_at_once(reader: Visitor) -> None:
    query = {"part": ["PW6=3", "PV19/gamma=1", "PB29=0"], "target": "#804060"}
    first = reader.client.get("/api/bench", params=query).json()
    assert first["delta_e00"] > 0 and first["colour"]["hex"].startswith("#")
    started = time.perf_counter()
    again = reader.client.get(
        "/api/bench", params={**query, "part": ["PW6=3", "PV19/gamma=1", "PB29=1"]}
    )
    assert again.json()["colour"] != first["colour"]
    assert time.perf_counter() - started < 5.0, "a bound against hanging; bench/web.py measures"


def test_the_bench_agrees_with_the_mixture(reader: Visitor) -> None:
    part = {"part": ["PW6=3", "PV19/gamma=1"]}
    bench = reader.client.get("/api/bench", params=part).json()
    mixed = reader.client.get("/api/mix", params=part).json()
    assert bench["colour"] == mixed["colour"]


@pytest.mark.parametrize("part", ["PW6=-1", "PW6", "PW6=nan", "PW6=1e9", "=3", "xyz=1"])
def test_parts_nobody_can_squeeze(reader: Visitor, part: str) -> None:
    assert reader.client.get("/api/bench", params={"part": part}).status_code == 422


def test_too_many_paints_for_the_bench(reader: Visitor) -> None:
    many = "&".join(f"p=PV19/gamma{n}=1" for n in range(9))
    assert "At most 8" in reader.get(f"/mixing/bench?{many}", status=422)
