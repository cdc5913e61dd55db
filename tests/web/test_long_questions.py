"""Long questions keep nobody waiting who did not ask them, and are worked out once."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor, as_completed
from pathlib import Path
from typing import Any, cast

import httpx
import pytest
from starlette.testclient import TestClient

from tests.web import slow_tasks
from tests.web.conftest import BASE, Visitor
from tubewise import limits
from tubewise.errors import UserError
from tubewise.store.store import Store
from tubewise.tubes.tube import Tube
from tubewise.web.app import application
from tubewise.web.counter import Counter
from tubewise.web.door import Door
from tubewise.web.workroom import Workroom
from tubewise.web.works import Asker, BusyError, Progress, Turns

RECIPE = "/api/recipe?target=munsell:5P+5/6"


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """Recipes that are not found before the gate is opened."""
    slow_tasks.GATE.clear()
    slow_tasks.RUNS.clear()

    def held_up(holdings: Any, progress: Progress, question: Any) -> Any:
        return slow_tasks.refusing(holdings, progress, question.target)

    monkeypatch.setattr("tubewise.web.recipe_answers.work_recipes_out", held_up)
    yield slow_tasks.GATE
    slow_tasks.GATE.set()


@pytest.fixture
def asks(shop: Store) -> Iterator[Callable[[str], Future[httpx.Response]]]:
    """Somebody new asks for an address, and does not wait; all of one server."""
    app = application(shop)
    # One client is one event loop, as a server has one.
    with TestClient(app, base_url=BASE) as client, ThreadPoolExecutor(120) as pool:

        def ask(path: str, visitor: str = "") -> Future[httpx.Response]:
            headers = {"cookie": f"tubewise-visitor={visitor}"} if visitor else {}
            return pool.submit(client.get, path, headers=headers)

        yield ask
        slow_tasks.GATE.set()


def test_pages_and_files_do_not_wait_behind_more_searches_than_there_are_threads(
    gate: threading.Event, asks: Callable[[str], Future[httpx.Response]]
) -> None:
    searches = [asks(RECIPE) for _ in range(60)]
    for path in ("/static/style.css", "/label?text=PV19", "/tubes"):
        assert asks(path).result(20).status_code == 200, path
    assert not any(search.done() for search in searches)
    gate.set()
    # All are told the same, and it was worked out once.
    assert {search.result(20).status_code for search in searches} == {422}
    assert slow_tasks.RUNS == ["munsell:5P 5/6"]


def test_one_visitor_may_not_ask_everything_at_once(gate: threading.Event, owner: Visitor) -> None:
    owner.get("/label")
    with ThreadPoolExecutor(8) as pool:
        first = [
            pool.submit(owner.client.get, f"{RECIPE}&max_paints={n}")
            for n in range(1, limits.MOST_ASKED_EACH + 2)
        ]
        refused = next(f.result() for f in as_completed(first, 20))
        assert refused.status_code == 503 and "still being worked on" in refused.text
        assert refused.headers["retry-after"]
        gate.set()
        statuses = sorted(f.result(20).status_code for f in first)
    assert statuses == [422] * limits.MOST_ASKED_EACH + [503]


def test_who_has_waited_long_gets_a_page_that_asks_again(
    gate: threading.Event, owner: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(limits, "WAIT_SECONDS", 0.05)
    page = owner.client.get("/mixing?target=munsell:5P+5/6")
    assert page.status_code == 200 and page.headers["refresh"] == "1"
    assert "Working it out" in page.text
    plain = owner.client.get(RECIPE)
    assert plain.status_code == 503 and "ask again" in plain.json()["error"]


def test_the_bounds_of_each_place_and_of_all() -> None:
    turns = Turns(2, 3, 5)
    for visitor in ("a", "a", "b"):
        turns.enter(Asker(visitor, "10.0.0.1"))
    with pytest.raises(BusyError, match="you asked before"):
        turns.enter(Asker("a", "10.0.0.9"))
    with pytest.raises(BusyError, match="Many are asking"):
        turns.enter(Asker("c", "10.0.0.1"))
    # A reverse proxy that tells no addresses stands on this machine, and is no one visitor.
    turns.enter(Asker("c", "127.0.0.1"))
    turns.enter(Asker("d", "127.0.0.1"))
    with pytest.raises(BusyError, match="Many are asking"):
        turns.enter(Asker("e", "10.0.0.2"))
    turns.leave(Asker("a", "10.0.0.1"))
    turns.enter(Asker("a", "10.0.0.1"))


def test_who_takes_no_cookies_is_known_by_their_address() -> None:
    turns = Turns(1, 9, 9)
    turns.enter(Asker("", "10.0.0.1"))
    turns.enter(Asker("", "10.0.0.2"))
    with pytest.raises(BusyError, match="you asked before"):
        turns.enter(Asker("", "10.0.0.1"))


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Counter, Store]]:
    """A counter whose long questions go to processes."""
    with Store(tmp_path_factory.mktemp("room") / "a.sqlite3") as store:
        store.import_catalogue([Tube(id="a", name="Rose", label="PV19")])
        workroom = Workroom(store.url)
        yield Counter(store, workroom=workroom), store
        workroom.close()


@pytest.mark.slow
def test_a_process_of_its_own_answers_on_what_is_kept_now(room: tuple[Counter, Store]) -> None:
    counter, _ = room
    word, tubes, process = counter.holdings().worked_out(slow_tasks.counted, "first")
    assert (word, tubes) == ("first", 1) and process != os.getpid()
    counter.change(lambda s: s.import_catalogue([Tube(id="b", name="Blue", label="PB29")]))
    assert counter.holdings().worked_out(slow_tasks.counted, "second")[1] == 2


@pytest.mark.slow
def test_faults_come_back_from_a_process_as_what_they_are(room: tuple[Counter, Store]) -> None:
    holdings = room[0].holdings()
    with pytest.raises(UserError, match="no such colour") as refused:
        holdings.worked_out(slow_tasks.plainly_refusing)
    assert (refused.value.where, refused.value.problems) == ("a", ("look",))
    with pytest.raises(RuntimeError, match="ZeroDivisionError"):
        holdings.worked_out(slow_tasks.broken)


@pytest.mark.slow
def test_a_process_that_dies_or_takes_too_long_is_begun_anew(
    room: tuple[Counter, Store], monkeypatch: pytest.MonkeyPatch
) -> None:
    holdings = room[0].holdings()
    with pytest.raises(UserError, match="stopped before it was done"):
        holdings.worked_out(slow_tasks.killed)
    monkeypatch.setattr(limits, "ANSWER_SECONDS", 0.2)
    with pytest.raises(UserError, match="longer than 0 seconds and was stopped"):
        holdings.worked_out(slow_tasks.endless)
    monkeypatch.undo()
    assert holdings.worked_out(slow_tasks.counted, "after")[0] == "after"


@pytest.mark.slow
def test_answers_from_processes_are_those_from_threads(shop: Store, reader: Visitor) -> None:
    door = application(shop, apart=True)
    apart = Visitor(TestClient(door, base_url=BASE))
    for path in (RECIPE, "/api/standin?tube=PV19&medium=acrylic"):
        assert _bare(apart.get(path)) == _bare(reader.get(path)), path
    cast(Door, door).close()


def _bare(page: str) -> str:
    return re.sub(r'"seconds": [0-9.e-]+', "", page)


@pytest.mark.slow
def test_the_processes_go_with_their_server(tmp_path: Path) -> None:
    code = (
        "import sys\nfrom tubewise.store.store import Store\n"
        "from tubewise.web.hand import Hand\nfrom pathlib import Path\n"
        "with Store(Path(sys.argv[1])) as store:\n"
        "    print(Hand(store.url).begin().pid, flush=True)\n"
        "    sys.stdin.read()\n"
    )
    run = [sys.executable, "-c", code, str(tmp_path / "a.sqlite3")]
    with subprocess.Popen(run, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        process = int(server.stdout.readline())
        server.kill()
    until = time.monotonic() + 60
    while _runs(process) and time.monotonic() < until:
        time.sleep(0.1)
    assert not _runs(process)


def _runs(process: int) -> bool:
    """Whether a process works still, and is not only waiting to be taken note of."""
    try:
        return "Z" not in Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
