"""While the recipe search is compiled ahead, pages without it answer and the others say so."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest

from tests.web.conftest import Visitor, visitor_of
from tubewise.store.store import Store

RECIPE = "/mixing?target=munsell:5P+5/6&max_paints=2"


@pytest.fixture
def compiling(shop: Store, monkeypatch: pytest.MonkeyPatch) -> Iterator[Visitor]:
    """A visitor of a server whose search stays uncompiled until the test is over."""
    compiled = threading.Event()
    monkeypatch.setattr("tubewise.web.counter.ready", lambda: compiled.wait(60))
    monkeypatch.setattr("tubewise.web.counter.Holdings.warm", lambda self: None)
    yield visitor_of(shop, warm=True)
    compiled.set()


def test_a_recipe_says_what_it_waits_for_and_comes_by_itself(compiling: Visitor) -> None:
    answer = compiling.client.get(RECIPE)
    assert answer.headers["refresh"] == "1"
    assert "being compiled for this computer" in answer.text and "seconds" in answer.text


@pytest.mark.slow
def test_pages_without_the_search_answer_at_once(compiling: Visitor) -> None:
    for path in ("/tubes", "/label?text=PV19", "/side-by-side?t=PV19&t=PR122", "/mixing"):
        answer = compiling.client.get(path)
        assert answer.status_code == 200 and "refresh" not in answer.headers, path
        assert "being compiled" not in answer.text
