"""Photographs in a real browser: sent without scripts, and pointed at without being sent."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from tests.web.conftest import fill
from tests.web.test_browser import CHROMIUM, FLAGS, no_sideways_scroll, opened, serving
from tools.photographs.invented_labels import label
from tools.photographs.tube_pictures import plain_photograph
from tubewise.colour.srgb import lab_from_linear, linear_from_encoded
from tubewise.store.store import Store

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield found
        found.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with Store(tmp_path_factory.mktemp("photographs") / "shop.sqlite3") as store:
        fill(store)
        with serving(store) as address:
            yield address


def png(*columns: tuple[int, int, int]) -> dict[str, Any]:
    """A picture of upright stripes, as a browser is handed a file."""
    pixels = np.repeat(np.array([columns], np.uint8), 60, axis=1).repeat(120, axis=0)
    file = BytesIO()
    Image.fromarray(pixels).save(file, "PNG")
    return {"name": "stripes.png", "mimeType": "image/png", "buffer": file.getvalue()}


def test_a_colour_is_pointed_at_and_nothing_is_sent(browser: Any, server: str) -> None:
    with opened(browser, "phone", True) as page:
        sent: list[str] = []
        page.on("request", lambda r: sent.append(r.method) if r.post_data else None)
        page.goto(f"{server}/picture")
        page.get_by_label("The picture").first.set_input_files(png((170, 40, 60), (30, 60, 150)))
        button = page.get_by_role("button", name="Mix this colour")
        canvas = page.locator("canvas")
        canvas.wait_for()
        box = canvas.bounding_box()
        page.mouse.click(box["x"] + box["width"] * 0.25, box["y"] + box["height"] * 0.5)
        target = page.locator("input[name=target]").input_value()
        lab = [float(v) for v in target.removeprefix("lab:").split(",")]
        wanted = lab_from_linear(linear_from_encoded(np.array([170, 40, 60]) / 255))
        assert np.allclose(lab, wanted, atol=0.15)
        canvas.focus()
        for _ in range(10):
            page.keyboard.press("Shift+ArrowRight")
        blue = page.locator("input[name=target]").input_value()
        assert float(blue.split(",")[2]) < -30
        no_sideways_scroll(page, "phone")
        assert button.is_enabled() and sent == []
        page.get_by_text("This colour is uncertain").wait_for()


def test_what_is_no_picture_is_said_and_gives_no_target(browser: Any, server: str) -> None:
    with opened(browser, "desktop", True) as page:
        page.goto(f"{server}/picture")
        file = {"name": "a.png", "mimeType": "image/png", "buffer": b"not a picture"}
        page.get_by_label("The picture").first.set_input_files(file)
        page.get_by_text("can't show that file").wait_for()
        assert page.get_by_role("button", name="Mix this colour").is_disabled()


def test_a_photograph_is_sent_and_read_without_scripts(
    browser: Any, server: str, tmp_path: Path
) -> None:
    made = label(11, 3, 2.0)
    with opened(browser, "phone", False) as page:
        page.goto(f"{server}/photographs?seat=4&boxes=Moor")
        file = {"name": "tube.jpg", "mimeType": "image/jpeg", "buffer": plain_photograph(made)}
        page.get_by_label("Or pictures taken before").set_input_files(file)
        page.get_by_role("button", name="Read them").click()
        page.get_by_role("heading", name="What the photographs say").wait_for()
        for code in made.codes:
            page.get_by_text(code).first.wait_for()
        assert page.locator("img.photo").evaluate("i => i.complete && i.naturalWidth > 500")
        no_sideways_scroll(page, "phone")
        page.get_by_role("button", name="Keep the ticked tubes").click()
        page.get_by_text("Kept: 4").wait_for()
