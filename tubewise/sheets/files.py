"""Finished pages as files."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from tubewise.errors import UserError
from tubewise.sheets.press import FORMATS
from tubewise.tables.writing import write_whole


def wanted_format(out: Path | None, format: str) -> str:
    """The format asked for: `format`, else what the file's name ends in, else pdf.

    Raises UserError where the two contradict each other.
    """
    ending = out.suffix.lower().lstrip(".") if out is not None else ""
    if not format:
        return ending or "pdf"
    if ending in FORMATS and ending != format:
        raise UserError(f"ends in .{ending}, but --format says {format}", where=str(out))
    return format


def write_pages(pages: Sequence[bytes], path: Path) -> tuple[Path, ...]:
    """Write pages to `path`, or numbered beside it (NAME-01.png) when there are several.

    Returns where they went. Raises UserError when a place cannot be written.
    """
    if len(pages) == 1:
        places = [path]
    else:
        digits = len(str(len(pages)))
        places = [
            path.with_name(f"{path.stem}-{number:0{digits}}{path.suffix}")
            for number in range(1, len(pages) + 1)
        ]
    for place, page in zip(places, pages, strict=True):
        write_whole(place, page)
    return tuple(places)
