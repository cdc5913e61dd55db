"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from tubewise.errors import UserError


def write_whole(path: Path, text: str | bytes) -> None:
    """Write a file so that a reader sees the old one or the new one, never half of either.

    Makes the folder where it is missing. Raises UserError when the place cannot be written.
    """
    data = text.encode("utf-8") if isinstance(text, str) else text
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            Path(name).chmod(0o644)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink()
            raise
    except OSError as error:
        raise UserError(
            f"cannot be written: {error.strerror or error}; choose another place", where=str(path)
        ) from error
