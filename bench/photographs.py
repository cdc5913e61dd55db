"""Photographs: one label, a box of twelve and one chart, each in the process apart, with memory."""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from bench.row import Row
from tools.photographs.invented_labels import label
from tools.photographs.swatch_scenes import scene
from tools.photographs.tube_pictures import box, photograph, plain_photograph
from tubewise.labels.photo.read import read_photographs
from tubewise.measure.picture.swatches import read_swatches


def rows() -> Iterator[Row]:
    """Times as a person waits for them: the process starts, loads its models and reads."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        names = ("small", "label", "box", "chart")
        small, single, twelve, chart = (folder / f"{name}.jpg" for name in names)
        small.write_bytes(plain_photograph(label(11, 3, 2.0)))
        single.write_bytes(photograph(1, "middle").data)
        twelve.write_bytes(box(5).data)
        chart.write_bytes(scene(6).data)
        yield _row("one label, 1.6 megapixels", lambda: read_photographs([small]))
        yield _row("one label, 12 megapixels", lambda: read_photographs([single]))
        yield _row("a box of twelve, 12 megapixels", lambda: read_photographs([twelve]))
        yield _row("eight daubs and a chart", lambda: read_swatches(chart, "chart"))
        yield _idle(single)


_IDLE = """
import sys, time
from pathlib import Path
from tubewise.advice.photographs.labels import read_label_photographs

def held():
    words = Path("/proc/self/status").read_text().split()
    return int(words[words.index("VmRSS:") + 1]) / 1024

before = held()
start = time.perf_counter()
read_label_photographs([Path(sys.argv[1])])
print(before, held(), time.perf_counter() - start)
"""


def _idle(path: Path) -> Row:
    """Memory of a program that can read photographs, before it read one and when it is idle again.

    The reader runs in a process apart that ends, so its models stay nowhere.
    """
    answer = subprocess.run(
        [sys.executable, "-c", _IDLE, str(path)], capture_output=True, text=True, check=True
    )
    before, after, took = map(float, answer.stdout.split())
    return Row(
        "a first label in a program, and memory when idle",
        took,
        remark=f"{before:.0f} MB before, {after:.0f} MB idle again",
    )


def _row(what: str, work: Callable[[], object]) -> Row:
    start = time.perf_counter()
    work()
    took = time.perf_counter() - start
    # The largest child so far: rows run from the smaller to the larger, the chart's is below both.
    most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    return Row(what, took, remark=f"largest process so far {most:.0f} MB")
