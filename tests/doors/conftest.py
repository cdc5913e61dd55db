"""One store, and the doors to it: Python, the command line, the server's JSON and its pages."""

from __future__ import annotations

import contextlib
import io
import json
import re
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from tests.doors import workshop_files as files
from tubewise.advice.classroom.workshop import Workshop
from tubewise.cli.main import main
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.measure.attach import attach, measured_optics
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.references import Optics
from tubewise.measure.spectra import Conditions, Spectra, Spectrum
from tubewise.optics.mixture import mix
from tubewise.paints.appearance import appearance
from tubewise.paints.shelf import Shelf
from tubewise.pigments import models
from tubewise.store.store import Store
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.supply import read_supply_list
from tubewise.web.app import application


@dataclass(frozen=True, kw_only=True)
class Doors:
    """A store with its files beside it, and every way in."""

    folder: Path
    store: Store

    @cached_property
    def workshop(self) -> Workshop:
        """The workshop as Python asks about it."""
        supply = replace(read_supply_list(self.folder / "list.csv"), name=files.NAME)
        return Workshop(
            supply,
            read_boxes(self.folder / "boxes.csv"),
            read_catalogue(self.folder / "catalogue.csv"),
            measured_optics(self.store),
        )

    @cached_property
    def shelf(self) -> Shelf:
        """Every tube, measured where it is."""
        return self.workshop.shelf

    @cached_property
    def client(self) -> TestClient:
        """A browser at the server."""
        return TestClient(application(self.store), base_url="http://127.0.0.1")

    def command(self, *words: str | Path, status: int = 0) -> str:
        """What a command prints; file names are looked for in the folder."""
        argv = ["tubewise", *(str(self.folder / w) if self._is_file(w) else str(w) for w in words)]
        out, err = io.StringIO(), io.StringIO()
        ended = 0
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("TUBEWISE_DB", f"sqlite:///{self.folder / 'store.sqlite3'}")
            patch.setattr(sys, "argv", argv)
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                try:
                    main()
                except SystemExit as stop:
                    ended = int(stop.code or 0)
        assert ended == status, err.getvalue()
        return out.getvalue() if ended != 2 else err.getvalue()

    def _is_file(self, word: str | Path) -> bool:
        return str(word).endswith((".csv", ".pdf", ".svg"))

    def command_json(self, *words: str, status: int = 0) -> Any:
        """What a command answers with `--json`."""
        return json.loads(self.command(*words, "--json", status=status))

    def printed(self, *words: str) -> str:
        """The words on the sheet that a `sheet` command prints."""
        self.command("sheet", *words, "--out", "sheet.pdf")
        return words_of((self.folder / "sheet.pdf").read_bytes())

    def page(self, path: str, status: int = 200, **query: Any) -> str:
        """A page of the server once it is ready."""
        return str(self._ready(path, status, query).text)

    def web_json(self, path: str, status: int = 200, **query: Any) -> Any:
        """The server's JSON once it is ready."""
        return self._ready(f"/api/{path}", status, query).json()

    def web_sheet(self, name: str, **query: Any) -> str:
        """The words on a sheet of the server."""
        return words_of(self._ready(f"/sheets/{name}.pdf", 200, query).content)

    def _ready(self, path: str, status: int, query: dict[str, Any]) -> Any:
        deadline = time.monotonic() + 120.0
        while True:
            answer = self.client.get(path, params=query)
            waiting = answer.status_code == 202 or "refresh" in answer.headers
            if not waiting or time.monotonic() > deadline:
                assert answer.status_code == status, answer.text[:2000]
                return answer
            time.sleep(0.05)


def words_of(pdf: bytes) -> str:
    """All words of a PDF, runs of space made one."""
    return " ".join(" ".join(p.extract_text() for p in PdfReader(io.BytesIO(pdf)).pages).split())


def words_of_page(page: str) -> str:
    """What a page says, its tags left out."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page)).split())


def _measure(store: Store, tube: str, ref: str) -> None:
    """Keep a measurement of a tube that holds a pigment of the register."""
    own, white = models.optics(ref), models.optics("PW6")
    readings = []
    for parts in (0.0, 2.0, 9.0):
        K, S = mix([own.K, white.K], [own.S, white.S], [1.0, parts])
        readings.append(
            Spectrum(
                f"tint 1:{parts:g}" if parts else "masstone",
                tuple(float(v) for v in WAVELENGTHS_NM),
                tuple(float(v) for v in appearance(K, S)),
                "drawdowns.csv",
                Conditions(specular="included"),
            )
        )
    drawdowns = drawdown_set([Spectra(tuple(readings))])
    attach(store, learn(drawdowns, tube=tube, white=Optics(white.K, white.S, "the white")))


@pytest.fixture(scope="session")
def doors(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Doors]:
    """The workshop in a store and in files; one of its tubes measured. No test changes it."""
    folder = Path(tmp_path_factory.mktemp("doors"))
    for name, text in files.FILES.items():
        (folder / name).write_text(text, encoding="utf-8")
    with Store(folder / "store.sqlite3") as store:
        store.import_catalogue(read_catalogue(folder / "catalogue.csv"))
        store.import_boxes(read_boxes(folder / "boxes.csv"), files.NAME)
        store.import_supply_list(replace(read_supply_list(folder / "list.csv"), name=files.NAME))
        _measure(store, files.MEASURED_TUBE, "PV19/gamma")
        yield Doors(folder=folder, store=store)
