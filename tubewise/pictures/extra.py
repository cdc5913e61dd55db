"""Whether the parts that read photographs are installed, and what to say where they are not."""

from __future__ import annotations

from importlib.util import find_spec
from typing import Final

from tubewise.errors import UserError

_MODULES: Final = ("PIL", "cv2", "onnxruntime", "rapidocr")
INSTALL: Final = "pip install 'tubewise[photos]'"


def has_photos() -> bool:
    """Whether everything of the extra `photos` can be imported."""
    return all(find_spec(module) is not None for module in _MODULES)


def need_photos() -> None:
    """Raise UserError that says what to install, unless the extra is there."""
    if not has_photos():
        raise UserError(f"Reading photographs needs more parts. Install them once with: {INSTALL}")
