"""Spectra from a file of any format we read, told apart by its content."""

from __future__ import annotations

from pathlib import Path

from tubewise.errors import UserError
from tubewise.limits import MOST_READING_BYTES
from tubewise.measure.cgats import looks_like_cgats, read_cgats
from tubewise.measure.cxf import looks_like_cxf, read_cxf
from tubewise.measure.spectra import Spectra
from tubewise.measure.spectral_csv import read_spectral_csv
from tubewise.tables.text_files import decode


def read_bytes(data: bytes, file: str, scale: str = "auto") -> Spectra:
    """Spectra in the bytes of a CGATS, CxF3 or spectral CSV file named `file`.

    `scale` is `auto`, `fraction` or `percent`. Raises UserError for anything else.
    """
    if not data.strip():
        raise UserError("The file is empty.", where=file)
    if looks_like_cxf(data):
        return read_cxf(data, file, scale)
    if data.startswith(b"PK\x03\x04"):
        raise UserError("Spectra are not read from workbooks; save the sheet as CSV.", where=file)
    text = decode(data, file)
    if looks_like_cgats(text):
        return read_cgats(text, file, scale)
    return read_spectral_csv(text, file, scale)


def read_file(path: str | Path, scale: str = "auto") -> Spectra:
    """Spectra in a CGATS, CxF3 or spectral CSV file; see `read_bytes`."""
    path = Path(path)
    try:
        if path.stat().st_size > MOST_READING_BYTES:
            raise UserError("The file is too large to be a set of readings.", where=path.name)
        data = path.read_bytes()
    except FileNotFoundError:
        raise UserError("There is no such file; look at its name.", where=str(path)) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "bad name"
        raise UserError(f"The file can't be read ({reason}).", where=str(path)) from None
    return read_bytes(data, path.name, scale)
