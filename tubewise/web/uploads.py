"""Files from outside: held to a size, a kind and a shape, under a name of our own choosing."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

from fastapi import File, UploadFile

from tubewise.errors import UserError
from tubewise.limits import MAX_BODY
from tubewise.web.works import FILES

Upload = Annotated[UploadFile, File()]

SHEETS = (".csv", ".tsv", ".txt", ".xlsx", ".ods", ".xls")
READINGS = (".csv", ".txt", ".cgats", ".it8", ".ti3", ".cxf", ".xml", ".json", ".tsv")


def plain_file_name(name: str | None, kinds: tuple[str, ...]) -> str:
    """A name for our own disk: the last part of theirs, letters, figures and few signs only.

    Raises UserError where its ending is none of `kinds`.
    """
    last = re.split(r"[/\\]", name or "")[-1]
    stem, dot, ending = last.rpartition(".")
    ending = f"{dot}{ending}".casefold()
    if ending not in kinds or not stem:
        raise UserError(
            f"This kind of file is not read here; send one that ends in {', '.join(kinds)}.",
            where=last[:80] or "no file",
        )
    stem = re.sub(r"[^\w -]", "_", stem).strip(" _")[:60]
    return (stem or "upload") + ending


@contextmanager
def uploaded(file: UploadFile, kinds: tuple[str, ...] = SHEETS) -> Iterator[Path]:
    """The upload as a file in a folder of its own, gone afterwards.

    What is done with it counts as one of the files being read. Raises UserError where it is empty,
    too large or of no kind we read, and BusyError where too many are being read.
    """
    name = plain_file_name(file.filename, kinds)
    with tempfile.TemporaryDirectory(prefix="tubewise-") as folder:
        path = Path(folder) / name
        data = file.file.read(MAX_BODY + 1)
        if not data:
            raise UserError("The file is empty.", where=name)
        if len(data) > MAX_BODY:
            raise UserError(f"The file is larger than {MAX_BODY // 2**20} MB.", where=name)
        path.write_bytes(data)
        with FILES.taken():
            yield path
