"""`tubewise serve`: where it listens, what it tells, and what it refuses."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import pytest

SERVE = [sys.executable, "-u", "-c", "from tubewise.cli.main import main; main()", "serve"]


@contextmanager
def served(place: Path, *options: str) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """A server in a process of its own: its address and the process."""
    env = {**os.environ, "TUBEWISE_DB": f"sqlite:///{place}/serve.sqlite3"}
    with subprocess.Popen(
        [*SERVE, "--port", "0", *options], env=env, stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        found = re.search(r"http://[^/]+:(\d+)/", process.stdout.readline())
        assert found is not None
        try:
            yield f"http://127.0.0.1:{found[1]}", process
        finally:
            process.terminate()


@pytest.mark.slow
def test_it_serves_this_machine_only(tmp_path: Path) -> None:
    with served(tmp_path) as (base, _):
        answer = httpx.get(base, timeout=60)
        assert answer.status_code == 200 and "try it with a workshop" in answer.text
        assert "Bring in the acrylic workshop</button>" in answer.text
        assert "server" not in answer.headers


@pytest.mark.slow
def test_on_a_network_it_tells_a_code(tmp_path: Path) -> None:
    with served(tmp_path, "--host", "0.0.0.0") as (base, process):
        assert process.stdout is not None
        told = process.stdout.readline()
        code = re.search(r"[a-z2-9]{4}-[a-z2-9]{4}-[a-z2-9]{4}", told)
        assert code is not None
        assert "Give the access code" in httpx.get(base, timeout=60).text
        entered = httpx.post(f"{base}/enter", data={"code": code[0]}, timeout=60)
        assert entered.status_code == 303


@pytest.mark.slow
def test_places_it_cannot_listen_at(tmp_path: Path) -> None:
    env = {**os.environ, "TUBEWISE_DB": f"sqlite:///{tmp_path}/serve.sqlite3"}
    with served(tmp_path) as (base, _):
        port = base.rsplit(":", 1)[1]
        taken = subprocess.run([*SERVE, "--port", port], env=env, capture_output=True, text=True)
        assert taken.returncode == 2 and "choose another --port" in taken.stderr
    short = subprocess.run(
        [*SERVE, "--host", "0.0.0.0", "--code", "abc"], env=env, capture_output=True, text=True
    )
    assert short.returncode == 2 and "eight letters" in short.stderr


@pytest.mark.slow
def test_behind_a_proxy_it_answers_to_its_name_and_asks_for_the_code(tmp_path: Path) -> None:
    with served(tmp_path, "--name", "paints.example") as (base, process):
        assert process.stdout is not None
        assert "Everyone who comes to paints.example may read" in process.stdout.readline()
        answers = {
            name: httpx.get(base, headers={"host": name, "x-forwarded-proto": "https"}, timeout=60)
            for name in ("paints.example", "other.example")
        }
        assert answers["paints.example"].status_code == 200
        assert "Give the access code" in answers["paints.example"].text
        assert "Secure" in answers["paints.example"].headers["set-cookie"]
        assert answers["other.example"].status_code == 400
