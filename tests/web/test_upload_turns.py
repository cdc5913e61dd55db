"""Files of strangers are read a few at a time; who comes then is told to come again."""

from __future__ import annotations

from tests.web.conftest import Visitor
from tubewise import limits
from tubewise.web.works import FILES, Asker


def test_while_many_files_are_read_another_is_put_off(newcomer: Visitor) -> None:
    readers = [Asker(str(n), "127.0.0.1") for n in range(limits.MOST_FILES_READ)]
    for reader in readers:
        FILES.enter(reader)
    files = {"file": ("tubes.csv", b"name,label\nRose,PV19\n", "text/csv")}
    try:
        busy = newcomer.send("/tubes.import", 503, files=files)
        assert "Many are asking" in busy.text and busy.headers["retry-after"]
    finally:
        for reader in readers:
            FILES.leave(reader)
    newcomer.send("/tubes.import", 200, files=files)


def test_a_file_that_is_refused_gives_its_turn_back(newcomer: Visitor) -> None:
    for _ in range(limits.MOST_FILES_READ + 1):
        newcomer.send("/tubes.import", 422, files={"file": ("a.xlsx", b"PK\x03\x04no")})
