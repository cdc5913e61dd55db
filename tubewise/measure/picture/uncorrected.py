"""How far a camera's colour is from the paint's where nothing known is on the picture."""

from __future__ import annotations

from typing import Final

# CIEDE2000, measured on rendered scenes: docs/photographs.md.
USUAL_MISS: Final = 11.5
WITHIN_95: Final = 19.1
