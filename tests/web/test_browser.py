"""Each job in a real browser: desktop and phone, with scripts and without; none leaves the machine.

Needs Debian's chromium; without it these tests are skipped, but never on CI.
"""

from __future__ import annotations

import os
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlsplit

import httpx
import pytest
import uvicorn

from tests.web.conftest import fill
from tests.web.test_measurements import readings
from tubewise.store.store import Store
from tubewise.web.app import application

pytestmark = [pytest.mark.browser, pytest.mark.slow]

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
if CHROMIUM is None and os.environ.get("CI") != "true":
    pytest.skip("chromium is not installed", allow_module_level=True)

SIZES = {
    "desktop": {"width": 1280, "height": 900},
    "phone": {"width": 390, "height": 844},
    "narrow": {"width": 320, "height": 700},
}
ROSE = "thornquay-wherry-acrylic-permanent-rose-60ml"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@contextmanager
def serving(store: Store, **options: Any) -> Iterator[str]:
    """A real server over a store, on a free port of this machine."""
    listener = socket.socket()
    listener.bind(("127.0.0.1", 0))
    config = uvicorn.Config(application(store, **options), log_level="error")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A server with a shop and a small class."""
    with Store(tmp_path_factory.mktemp("browser") / "shop.sqlite3") as store:
        fill(store)
        with serving(store) as address:
            # The search is compiled on its first use; on a cold machine that takes minutes.
            for _ in range(900):
                if "refresh" not in httpx.get(f"{address}/class", timeout=600).headers:
                    break
                time.sleep(1)
            yield address


@pytest.fixture(params=["desktop", "phone"])
def size(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=[True, False], ids=["scripts", "no-scripts"])
def scripts(request: pytest.FixtureRequest) -> bool:
    return bool(request.param)


@contextmanager
def opened(chromium: Any, size: str, scripts: bool, **more: Any) -> Iterator[Any]:
    """A page that notes every request, and fails if one was for another machine."""
    context = chromium.new_context(viewport=SIZES[size], java_script_enabled=scripts, **more)
    asked: list[str] = []
    faults: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    context.on(
        "console",
        # A page that tells of a fault is one; the browser's remark on its status is not.
        lambda m: None if "the server responded with" in m.text else faults.append(m.text),
    )
    page = context.new_page()
    page.set_default_timeout(60_000)
    page.on("pageerror", lambda error: faults.append(str(error)))
    yield page
    context.close()
    hosts = {urlsplit(url).hostname for url in asked if not url.startswith(("data:", "blob:"))}
    assert hosts <= {"127.0.0.1"}, "a request left the machine"
    assert not faults, "the browser complained"


def no_sideways_scroll(page: Any, size: str) -> None:
    """The page itself never scrolls sideways, however narrow."""
    wide = page.evaluate("document.documentElement.scrollWidth") if size else 0
    assert wide <= SIZES[size]["width"] + 1


def checked_class(page: Any, base: str) -> None:
    page.goto(f"{base}/class?list=Moor&boxes=Moor")
    page.get_by_role("heading", name="Moor").wait_for()


def test_a_tube_is_found_and_laid_beside_another(
    chromium: Any, base: str, size: str, scripts: bool
) -> None:
    with opened(chromium, size, scripts) as page:
        page.goto(f"{base}/tubes")
        page.get_by_label("Name or maker").fill("permanant rose")
        page.locator("main").get_by_role("button", name="Find").click()
        boxes = page.locator('input[name="t"]')
        boxes.nth(0).check()
        boxes.nth(3).check()
        page.get_by_role("button", name="Lay side by side").click()
        page.get_by_role("heading", name="Situation by situation").wait_for()
        assert page.locator(".touching svg.strip").count() == 2
        first, second = page.locator(".touching .holder").all()
        above, below = first.bounding_box(), second.bounding_box()
        assert abs(above["y"] + above["height"] - below["y"]) < 1.0, "the strips touch"
        page.get_by_text("Spectra and the a*b* plane").click()
        page.locator("svg.chart").wait_for()
        page.get_by_label("PG7").check()
        page.get_by_role("button", name="Compare").click()
        page.get_by_text("with PG7 and white").wait_for()
        assert "with=PG7" in page.url, "every state has an address"


def test_a_label_is_read(chromium: Any, base: str, size: str, scripts: bool) -> None:
    with opened(chromium, size, scripts) as page:
        page.goto(f"{base}/label")
        page.get_by_label("What it says on the tube").fill("Rose PVI9, PR122")
        if not scripts:
            page.get_by_role("button", name="Read it").click()
        page.locator("mark.doubt", has_text="PVI9").wait_for()
        page.locator(".plain", has_text="quinacridone magenta").wait_for()


def test_a_colour_is_mixed_and_tried_on_the_bench(
    chromium: Any, base: str, size: str, scripts: bool
) -> None:
    with opened(chromium, size, scripts) as page:
        page.goto(f"{base}/mixing?box={quote('Moor' + chr(10) + '1')}")
        page.get_by_label("The colour wanted").fill("munsell:5P 5/6")
        page.get_by_label("Tubes at most").fill("3")
        page.get_by_role("button", name="Find parts").click()
        page.get_by_role("link", name="To the bench").first.click()
        words = page.locator("[data-words]")
        before = page.locator("[data-mixed] rect").get_attribute("fill")
        # What is typed before the page's script has come would not be heard.
        page.wait_for_load_state("load")
        parts = page.locator('input[name="parts"]').first
        parts.fill(str(float(parts.input_value()) + 5))
        if scripts:
            page.wait_for_function(
                "was => document.querySelector('[data-mixed] rect').getAttribute('fill') !== was",
                arg=before,
            )
            page.locator('input[type="range"]').first.focus()
            page.keyboard.press("ArrowRight")
            page.wait_for_url("**p=**")
        else:
            page.get_by_role("button", name="See it").click()
            assert page.locator("[data-mixed] rect").get_attribute("fill") != before
        assert words.inner_text()


def test_a_class_is_checked_from_boxes_to_paper(
    chromium: Any, base: str, size: str, scripts: bool
) -> None:
    with opened(chromium, size, scripts) as page:
        checked_class(page, base)
        page.get_by_role("link", name="Permanent rose: missing").click()
        page.get_by_role("heading", name="Seat 8: not ready").wait_for()
        page.go_back()
        page.get_by_role("link", name="To buy").click()
        page.get_by_text("In all:").wait_for()
        page.get_by_role("link", name="Key mixes").click()
        page.get_by_role("heading", name="Heather in full sun").wait_for()
        page.get_by_role("link", name="Supply list").click()
        page.get_by_role("heading", name="Permanent rose").wait_for()
        assert page.pdf(format="A4", print_background=True)[:5] == b"%PDF-"


def test_a_box_is_typed_removed_and_brought_back(
    chromium: Any, base: str, size: str, scripts: bool
) -> None:
    seat = f"{size} {scripts}"
    with opened(chromium, size, scripts) as page:
        page.goto(f"{base}/class/boxes?boxes=Moor")
        form = page.locator("#type")
        form.get_by_label("Seat").fill(seat)
        form.get_by_label("The tubes").fill("Permanent Rose, PV19\nUltramarine, PB29")
        form.get_by_role("button", name="Keep the box").click()
        page.get_by_role("button", name=f"Remove the box of seat {seat}").click()
        page.get_by_role("button", name="Undo").click()
        page.get_by_role("link", name=f"Seat {seat}").wait_for()
        page.get_by_role("button", name=f"Remove the box of seat {seat}").click()
        page.get_by_role("button", name="Undo").wait_for()


def test_boxes_are_sent_as_a_spreadsheet(
    chromium: Any, base: str, size: str, scripts: bool, tmp_path: Path
) -> None:
    sheet, bad = tmp_path / "boxes.csv", tmp_path / "bad.csv"
    sheet.write_text("seat,name,label\nA,Rose,PV19\nB,Blue,PB29\n", encoding="utf-8")
    bad.write_text("seat,name,price\nA,Rose,cheap\n", encoding="utf-8")
    with opened(chromium, size, scripts) as page:
        page.goto(f"{base}/class/boxes?boxes=Moor")
        for file, words in ((sheet, "Kept: 2 seats"), (bad, "row 2")):
            page.goto(f"{base}/class/boxes?boxes=Moor")
            page.locator("#fclass").fill(f"Sent {size} {scripts}")
            page.locator("#file").set_input_files(file)
            page.get_by_role("button", name="Bring them in").click()
            page.get_by_text(words).first.wait_for()


def test_a_measurement_is_sent_and_refused(
    chromium: Any, base: str, size: str, scripts: bool, tmp_path: Path
) -> None:
    file = tmp_path / "rose.csv"
    file.write_bytes(readings())
    with opened(chromium, size, scripts) as page:
        page.goto(f"{base}/measurements")
        page.get_by_label("Which tube").fill(ROSE)
        page.get_by_role("button", name="Go on").click()
        page.locator("#file").set_input_files(file)
        page.locator("#specular").select_option("included")
        page.get_by_role("button", name="Fit it").click()
        page.get_by_role("heading", name="What the readings say").wait_for()
        page.get_by_role("button", name="Refuse").click()
        page.get_by_text("nothing has changed").wait_for()


def test_names_that_mislead(chromium: Any, base: str, size: str, scripts: bool) -> None:
    with opened(chromium, size, scripts) as page:
        page.goto(f"{base}/names")
        page.locator("main").get_by_role("searchbox").fill("permanent rose")
        page.get_by_role("button", name="Show").click()
        page.get_by_role("link", name="Lay them side by side").first.click()
        page.get_by_role("heading", name="Side by side").wait_for()


def test_the_first_page_brings_in_the_demo(chromium: Any, tmp_path: Path) -> None:
    with (
        Store(tmp_path / "empty.sqlite3") as store,
        serving(store) as address,
        opened(chromium, "desktop", True) as page,
    ):
        page.goto(address)
        page.get_by_role("button", name="Bring in the acrylic workshop").click()
        page.get_by_role("heading", name="Heather, harebell, rowan").wait_for()
        page.get_by_text("can paint the lesson").wait_for()


def test_sold_out_is_answered_within_three_taps(
    chromium: Any, base: str, size: str, scripts: bool
) -> None:
    with opened(chromium, size, scripts) as page:
        page.goto(base)
        page.get_by_role("link", name="Sold out: what instead?").click()
        page.get_by_role("link", name="Dabble Ultramarine").first.click()
        page.get_by_role("heading", name="Instead of Thornquay Dabble Ultramarine").wait_for()
        page.get_by_text("the same to the eye").first.wait_for()
        assert page.locator("svg.strip").count() >= 4, "it touches what is wanted"


def test_suggestions_are_tapped_while_one_types(chromium: Any, base: str) -> None:
    with opened(chromium, "phone", True) as page:
        page.goto(f"{base}/pigments")
        page.get_by_label("A name, a code").press_sequentially("dioxazine")
        page.locator(".suggested a").first.click()
        page.get_by_role("heading", name="PV23").wait_for()


def test_a_tray_follows_from_page_to_page(
    chromium: Any, base: str, size: str, scripts: bool
) -> None:
    with opened(chromium, size, scripts) as page:
        page.goto(f"{base}/find?q=permanent+rose")
        for nth in (0, 1):
            with page.expect_response(lambda r: r.url.endswith("/tray")):
                page.locator('button[name="lay"]').nth(nth).click()
            page.wait_for_load_state("load")
        page.get_by_role("link", name="Tray").click()
        page.get_by_role("link", name="Lay side by side").click()
        page.get_by_role("heading", name="Situation by situation").wait_for()


PAGES = (
    "/",
    "/pigments",
    "/pigments?hue=blue",
    "/pigments/PV19?medium=oil",
    "/instead",
    "/instead?t=PV19",
    f"/instead?t={ROSE}",
    "/find?q=permanent+rose",
    "/tray",
    "/box",
    "/box?box=Moor%0A1",
    "/tubes",
    "/tubes?q=xqzwv&hue=red",
    f"/tubes/{ROSE}",
    "/tubes/nope",
    "/tubes.import",
    "/label?text=Rose+PVI9,+PR122+PW6",
    f"/side-by-side?t={ROSE}&t=PR209&t=PR122",
    "/side-by-side",
    "/mixing?target=PV19/gamma&max_paints=2&box=Moor%0A1",
    "/mixing/bench?target=%23804060&p=PW6=3&p=PV19/gamma=1",
    "/class?list=Moor&boxes=Moor",
    "/class/seat?seat=8&list=Moor&boxes=Moor",
    "/class/shopping?list=Moor&boxes=Moor",
    "/class/mixes?list=Moor&boxes=Moor",
    "/class/list?list=Moor",
    "/class/boxes?boxes=Moor",
    "/names",
    "/names?view=hue",
    "/measurements",
    "/photographs",
    "/picture",
    f"/measurements/{ROSE}",
    "/enter",
    "/api",
)


@pytest.mark.parametrize("look", ["light", "dark"])
def test_no_page_shuts_anybody_out(chromium: Any, base: str, size: str, look: str) -> None:
    from axe_playwright_python.sync_playwright import Axe

    found = []
    with opened(chromium, size, True, color_scheme=look) as page:
        checked_class(page, base)
        for path in PAGES:
            page.goto(base + path)
            page.locator("h1").first.wait_for()
            no_sideways_scroll(page, size)
            answer = Axe().run(page).response
            found += [
                (path, v["id"], v["impact"], v["nodes"][0]["html"][:200])
                for v in answer["violations"]
                if v["impact"] in ("serious", "critical")
            ]
    assert found == []


def test_nothing_overflows_on_the_narrowest_phone(chromium: Any, base: str) -> None:
    """WCAG 2.2, 1.4.10 Reflow: 320 CSS pixels without scrolling in two directions."""
    with opened(chromium, "narrow", True) as page:
        checked_class(page, base)
        wide = []
        for path in PAGES:
            page.goto(base + path)
            page.locator("h1").first.wait_for()
            width = page.evaluate("document.documentElement.scrollWidth")
            wide += [(path, width)] if width > SIZES["narrow"]["width"] + 1 else []
        assert wide == []


def test_the_keyboard_reaches_everything(chromium: Any, base: str) -> None:
    with opened(chromium, "desktop", True) as page:
        page.goto(f"{base}/tubes")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.textContent") == "Skip to the page"
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.name") == "q"
