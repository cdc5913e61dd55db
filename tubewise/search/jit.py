"""How every kernel of the search is compiled."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numba

from tubewise.search.machine_code import folder

# Reordering sums and fusing multiply-adds is harmless; assuming away NaN and infinity is not.
FASTMATH = frozenset({"reassoc", "contract", "arcp", "nsz"})
KEPT_IN = folder(Path(__file__).parent)


def _njit(function: Any, fastmath: frozenset[str]) -> Any:
    """Compile at the first call, and keep the machine code in `KEPT_IN` where there is one."""
    settings: Any = numba.config
    kept = settings.CACHE_DIR
    # numba reads the folder while it decorates, so nobody else's cache moves.
    settings.CACHE_DIR = str(KEPT_IN or kept)
    try:
        return numba.njit(
            cache=KEPT_IN is not None, nogil=True, error_model="numpy", fastmath=set(fastmath)
        )(function)
    finally:
        settings.CACHE_DIR = kept


def jit(function: Any) -> Any:
    """Compile a kernel: without the interpreter's lock, and sums may be reordered."""
    return _njit(function, FASTMATH)


def jit_finite(function: Any) -> Any:
    """As `jit`, where no value is ever NaN: then least and greatest are vectorised too."""
    return _njit(function, FASTMATH | {"nnan"})
