"""The web app under load: 50 readers at once for 30 seconds, and 10 writers that lose nothing.

The server runs in a process of its own on loopback, with the demo's shop and class. A reader
asks, waits for the whole answer, and asks again at once: nobody reads that fast, so this is the
hardest 50 readers can be. Each picks from some hundreds of addresses of tubes, side by side and
mixing; the first of each is worked out, the others may be remembered, as in a shop. `p95` counts
every answer after a first round.
"""

from __future__ import annotations

import asyncio
import os
import random
import re
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

import httpx

from bench.row import Row
from tubewise.demo.workshop import folder
from tubewise.store.store import Store
from tubewise.tubes.catalogue import read_boxes, read_catalogue

READERS = 50
WRITERS = 10
WRITES = 10
SECONDS = 30.0


@contextmanager
def serving(database: str) -> Iterator[tuple[str, int]]:
    """`tubewise serve` on a free port: its address and process id."""
    script = "from tubewise.cli.main import main; main()"
    command = [sys.executable, "-u", "-c", script, "serve", "--port", "0"]
    with subprocess.Popen(
        command, env={**os.environ, "TUBEWISE_DB": database}, stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        found = re.search(r"http://[^/]+", process.stdout.readline())
        assert found is not None
        try:
            yield found[0], process.pid
        finally:
            process.terminate()


def addresses(tubes: list[str]) -> dict[str, list[str]]:
    """What the readers ask for, by page."""
    rng = random.Random(20260301)
    words = ("rose", "permanent rose", "ultramarine", "yelow", "sap green", "phthalo", "white")
    colours = ("5R 4/12", "5P 5/6", "5B 6/6", "5G 5/8", "5Y 8/10", "5YR 6/10")
    seats = ("1", "2", "5", "12")
    return {
        "tubes": [f"/tubes?q={quote(w)}&medium={m}" for w in words for m in ("", "acrylic", "oil")]
        + [f"/tubes/{quote(t)}" for t in rng.sample(tubes, 60)],
        "side by side": [
            "/side-by-side?" + "&".join(f"t={quote(t)}" for t in rng.sample(tubes, 2))
            for _ in range(120)
        ],
        "mixing": [
            f"/mixing?target=munsell:{quote(c)}&box={quote('Moor' + chr(10) + s)}&max_paints=3"
            for c in colours
            for s in seats
        ],
    }


def memory_mb(pid: int) -> float:
    """Resident memory of a process, where the system tells."""
    try:
        status = Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    except OSError:
        return float("nan")
    return int(re.findall(r"VmRSS:\s+(\d+)", status)[0]) / 1024.0


class Reader:
    """A connection that is kept, and no more: the readers must not be slower than the server."""

    def __init__(self, base: str) -> None:
        self._host = base.removeprefix("http://")
        self._streams: tuple[asyncio.StreamReader, asyncio.StreamWriter] | None = None

    async def get(self, path: str) -> tuple[int, bytes]:
        """Status and body of an answer."""
        if self._streams is None:
            host, port = self._host.rsplit(":", 1)
            self._streams = await asyncio.open_connection(host, int(port), limit=2**20)
        reader, writer = self._streams
        cookie = "tubewise-visitor=reader"
        request = f"GET {path} HTTP/1.1\r\nHost: {self._host}\r\nCookie: {cookie}\r\n\r\n"
        writer.write(request.encode("ascii"))
        head = (await reader.readuntil(b"\r\n\r\n")).decode("latin-1").casefold()
        length = int(re.findall(r"content-length: (\d+)", head)[0])
        return int(head[9:12]), await reader.readexactly(length)

    def close(self) -> None:
        """Let go of the connection."""
        if self._streams is not None:
            self._streams[1].close()


async def _first(base: str, every: dict[str, list[str]]) -> list[float]:
    """Ask for each address once, one after the other; how long each took to work out."""
    reader = Reader(base)
    taken = []
    for paths in every.values():
        for path in paths:
            started = time.perf_counter()
            status, body = await reader.get(path)
            taken.append(time.perf_counter() - started)
            assert status == 200, (path, body)
    reader.close()
    return taken


async def _live(base: str, tubes: list[str]) -> list[float]:
    """One person at the bench: how long each new mixture of five tubes takes to come."""
    reader = Reader(base)
    taken = []
    rng = random.Random(20260302)
    paints = rng.sample(tubes, 5)
    for n in range(200):
        parts = "&".join(f"part={quote(t)}={rng.randint(0, 40) / 4 + n / 1e4:g}" for t in paints)
        started = time.perf_counter()
        status, body = await reader.get(f"/api/bench?target=munsell:5P%205/6&{parts}")
        taken.append(time.perf_counter() - started)
        assert status == 200, body
    reader.close()
    return taken


async def _read(base: str, every: dict[str, list[str]], taken: dict[str, list[float]]) -> int:
    faults = 0
    until = time.perf_counter() + SECONDS

    async def reader_loop(number: int) -> None:
        nonlocal faults
        rng = random.Random(number)
        pages = list(every)
        reader = Reader(base)
        while time.perf_counter() < until:
            page = rng.choice(pages)
            started = time.perf_counter()
            status, _ = await reader.get(rng.choice(every[page]))
            taken[page].append(time.perf_counter() - started)
            faults += status != 200
        reader.close()

    await asyncio.gather(*(reader_loop(n) for n in range(READERS)))
    return faults


async def _write(base: str) -> tuple[list[float], int]:
    """Writers that each keep boxes of their own; times, and how many boxes are missing."""
    taken: list[float] = []

    async def writer(number: int) -> None:
        async with httpx.AsyncClient(base_url=base, timeout=60.0) as client:
            page = (await client.get("/class/boxes?boxes=Moor")).text
            token = re.findall(r'name="token" value="([^"]+)"', page)[0]
            for n in range(WRITES):
                form = {"token": token, "boxes": "Load", "seat": f"{number}-{n}", "tubes": "R PV19"}
                started = time.perf_counter()
                answer = await client.post("/class/boxes", data=form)
                taken.append(time.perf_counter() - started)
                assert answer.status_code == 303, answer.text

    await asyncio.gather(*(writer(n) for n in range(WRITERS)))
    async with httpx.AsyncClient(base_url=base, timeout=60.0) as client:
        kept = [b for b in (await client.get("/api/boxes")).json() if b["box"].startswith("Load\n")]
    return taken, WRITERS * WRITES - len(kept)


def p95(taken: list[float]) -> float:
    """The time that 95 of 100 answers stay within."""
    return statistics.quantiles(taken, n=20)[-1]


def rows() -> Iterator[Row]:
    """The load rows."""
    with tempfile.TemporaryDirectory() as place:
        database = f"sqlite:///{place}/load.sqlite3"
        with Store(database) as store:
            catalogue = read_catalogue(folder() / "catalogue.csv")
            store.import_catalogue(catalogue)
            store.import_boxes(read_boxes(folder() / "boxes.csv"), "Moor")
        known = [t.id for t in catalogue if t.refs]
        every = addresses(known)
        with serving(database) as (base, pid):

            async def load() -> tuple[list[float], dict[str, list[float]], int, float, float]:
                first = await _first(base, every)
                before = memory_mb(pid)
                taken: dict[str, list[float]] = {page: [] for page in every}
                faults = await _read(base, every, taken)
                return first, taken, faults, before, memory_mb(pid)

            first, taken, faults, before, after = asyncio.run(load())
            total = sum(map(len, taken.values()))
            yield Row(
                "one reader, every page for the first time: p95",
                p95(first),
                remark=f"{len(first)} pages, median {statistics.median(first) * 1e3:.0f} ms",
            )
            live = asyncio.run(_live(base, known))[20:]
            yield Row(
                "live bench, a change of parts: p95",
                p95(live),
                to_reach="under 50 ms",
                remark=f"{len(live)} changes, median {statistics.median(live) * 1e3:.0f} ms",
            )
            for page, times in taken.items():
                yield Row(
                    f"{READERS} readers, {page}: p95",
                    p95(times),
                    to_reach="under 200 ms",
                    remark=f"{len(times)} answers, median {statistics.median(times) * 1e3:.0f} ms",
                )
            yield Row(
                f"{READERS} readers: each second of {SECONDS:g}",
                SECONDS / total,
                to_reach="no fault, memory flat",
                remark=f"{total / SECONDS:.0f} answers a second, {faults} faults, "
                f"memory {before:.0f} to {after:.0f} MB",
            )
            times, lost = asyncio.run(_write(base))
            yield Row(
                f"{WRITERS} writers: p95",
                p95(times),
                to_reach="nothing lost",
                remark=f"{len(times)} writes, {lost} lost",
            )


if __name__ == "__main__":
    for row in rows():
        print(" | ".join(row.cells), flush=True)
