"""The JSON side against its own description: no question ends in a fault of ours."""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.core.result import Ok

from tests.web.conftest import Visitor
from tubewise.search.compiled import ready
from tubewise.store.store import Store
from tubewise.web.app import application

pytestmark = pytest.mark.slow


def test_nothing_asked_is_a_fault_of_ours(shop: Store) -> None:
    # The first search of a new machine compiles for longer than a question may take here.
    ready()
    app = application(shop, hosts=frozenset())
    schema = schemathesis.openapi.from_asgi("/api/openapi.json", app)
    tried = 0
    for found in schema.get_all_operations():
        assert isinstance(found, Ok), found
        operation = found.ok()

        @settings(
            max_examples=20,
            deadline=None,
            derandomize=True,
            database=None,
            phases=[Phase.explicit, Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
        @given(case=operation.as_strategy())
        def ask(case: schemathesis.Case[Any]) -> None:
            nonlocal tried
            tried += 1
            case.call_and_validate(checks=[not_a_server_error])

        ask()
    assert tried > 100


ODD = ["\x00", "﻿", "=1+1", "../../x", "%", "a" * 299, "𝒜", "NaN", "-1", "1e999", "PV19/", "/gamma"]


@pytest.mark.parametrize("odd", ODD)
@pytest.mark.parametrize(
    ("path", "name"),
    [
        ("/tubes", "q"),
        ("/tubes", "code"),
        ("/tubes", "maker"),
        ("/tubes", "at_most"),
        ("/label", "text"),
        ("/side-by-side", "t"),
        ("/mixing", "target"),
        ("/mixing/bench", "p"),
        ("/mixing/bench", "target"),
        ("/names", "q"),
        ("/class", "list"),
        ("/class/seat", "seat"),
        ("/class/boxes", "seat"),
        ("/measurements/of", "tube"),
        ("/sheets/tint-ladder.pdf", "t"),
    ],
)
def test_odd_words_on_pages(reader: Visitor, path: str, name: str, odd: str) -> None:
    assert reader.client.get(path, params={name: odd}).status_code < 500
