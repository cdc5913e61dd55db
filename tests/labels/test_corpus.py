"""Labels in five languages and many shapes, each with the codes a painter reads.

They were written after the reader was finished and before it was tried on them. Which name goes
with which codes: common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tubewise.labels import read

CORPUS = Path(__file__).parent / "data" / "corpus.txt"


def corpus() -> list[tuple[str, tuple[str, ...]]]:
    found = []
    for line in CORPUS.read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            text, _, codes = line.rpartition(" => ")
            expected = () if codes == "-" else tuple(codes.split())
            found.append((text.replace(" ↵ ", "\n"), expected))
    return found


@pytest.mark.parametrize(("text", "codes"), corpus())
def test_a_label_is_read_as_a_painter_reads_it(text: str, codes: tuple[str, ...]) -> None:
    assert read(text).codes == codes
