"""How every kernel of the search is compiled."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numba

from tubewise.search.machine_code import folder

# Reordering sums and fusing multiply-adds is harmless; assuming away NaN and infinity is not.
FASTMATH = frozenset({"reassoc", "contract", "arcp", "nsz"})
# Where no value is ever NaN, least and greatest are vectorised too.
FINITE = FASTMATH | {"nnan"}
KEPT_IN = folder(Path(__file__).parent)


def _njit(function: Any, **options: Any) -> Any:
    """Compile at the first call, and keep the machine code in `KEPT_IN` where there is one."""
    settings: Any = numba.config
    kept = settings.CACHE_DIR
    # numba reads the folder while it decorates, so nobody else's cache moves.
    settings.CACHE_DIR = str(KEPT_IN or kept)
    try:
        # Nobody calls kernels from C, and what lets them took a tenth of the time to compile.
        options |= {"nogil": True, "error_model": "numpy", "no_cfunc_wrapper": True}
        return numba.njit(**options)(function)
    finally:
        settings.CACHE_DIR = kept


def jit(function: Any) -> Any:
    """Compile a kernel that makes no arrays: without the interpreter's lock, sums reordered.

    References to arrays are not counted (`_nrt`): counting those of a named tuple, each time one is
    taken from it, costs a third of the time of a short kernel. numba refuses to compile a kernel
    that makes an array all the same.
    """
    return _njit(function, fastmath=set(FASTMATH), cache=KEPT_IN is not None, _nrt=False)


def jit_finite(function: Any) -> Any:
    """As `jit`, where no value is ever NaN."""
    return _njit(function, fastmath=set(FINITE), cache=KEPT_IN is not None, _nrt=False)


def jit_allocating(function: Any) -> Any:
    """As `jit`, for a kernel that makes arrays."""
    # Said aloud, since a kernel compiled on behalf of another takes over what it leaves unsaid.
    return _njit(function, fastmath=set(FASTMATH), cache=KEPT_IN is not None, _nrt=True)


def inlined(function: Any) -> Any:
    """As `jit`, for what is called in one place: compiled into its caller.

    Else it would be compiled by itself, and again with every kernel that leads to it.
    """
    return _njit(function, fastmath=set(FASTMATH), inline="always")


def inlined_finite(function: Any) -> Any:
    """As `inlined`, for callers where no value is ever NaN."""
    return _njit(function, fastmath=set(FINITE), inline="always")
