"""A server whose store is damaged says so on the page and in JSON; it is no fault of ours."""

from __future__ import annotations

from pathlib import Path

from fastapi.testclient import TestClient

from tests.store import damaged
from tests.store.damaged import whole_store
from tubewise.store.store import Store
from tubewise.web.app import application


def test_a_lost_revision_is_told_with_what_mends_it(tmp_path: Path) -> None:
    path = whole_store(tmp_path / "store.sqlite3")
    with Store(path) as store:
        client = TestClient(application(store), base_url="http://127.0.0.1")
        damaged.lose_revision(path)
        page = client.get("/find?name=paint")
        assert page.status_code == 503
        assert "The store is damaged" in page.text and "tubewise store mend" in page.text
        assert str(path) not in page.text
        answer = client.get("/api/tubes?code=PV19")
        assert answer.status_code == 503
        assert "tubewise store mend" in answer.json()["error"]
