"""How far paints of one pigment may stray from its curves, in a few named directions.

A direction is a way in which whole curves move: more pigment, a band at a longer wavelength, more
scattering. Two kinds of error are told apart, since they are shared differently.

- What is unknown of the pigment: its bands, its scattering, its usual load. Every paint of it
  shares this, and pigments of one family share a part of it, so that it cancels where like is
  compared with like.
- How makers differ: load, grind, shade. Each tube has its own.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM

# The directions, in the order of every array of them.
DIRECTIONS = (
    *("load", "strength", "level", "shift_nm", "windows"),
    *("K_400", "K_460", "K_520", "K_580", "K_640", "K_700"),
    *("S_400", "S_500", "S_600", "S_700"),
)
LOAD, STRENGTH, LEVEL, SHIFT, WINDOWS = range(5)
_K_KNOTS = np.array([400.0, 460.0, 520.0, 580.0, 640.0, 700.0])
_S_KNOTS = np.array([400.0, 500.0, 600.0, 700.0])
N = len(DIRECTIONS)


def _hats(knots: Floats) -> Floats:
    """Functions (knots, bands) that are 1 at their own knot and fall linearly to 0 at the next."""
    return np.stack([np.interp(WAVELENGTHS_NM, knots, row) for row in np.eye(len(knots))])


_K_HATS, _S_HATS = _hats(_K_KNOTS), _hats(_S_KNOTS)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spread:
    """How a pigment's paints scatter about its curves.

    `family` scatters light alike; `kin` is one molecule in one crystal, or a series without gaps.
    `unknown` (N, N) is the symmetric square root of the covariance of what isn't known of the
    pigment; `makers` (N,) are standard deviations between makers. All directions are logarithms,
    but for `shift_nm`.
    """

    family: str
    kin: str
    unknown: Floats
    makers: Floats

    def steps(self, n: int, rng: np.random.Generator) -> Floats:
        """Steps (n, N) of `n` paints of the pigment, each by another maker."""
        own = rng.standard_normal((n, N)) * self.makers
        return np.asarray(rng.standard_normal((n, N)) @ self.unknown + own)

    @property
    def load(self) -> float:
        """Standard deviation of the logarithm of a tube's pigment load, makers and all."""
        return float(np.hypot(np.linalg.norm(self.unknown[LOAD]), self.makers[LOAD]))


def windows(K: Floats) -> Floats:
    """How much of a window each band of K (..., 36) is.

    It is 0 where the pigment absorbs most, and 1 where a thousandth of that is left.
    """
    deepest = K.max(axis=-1, keepdims=True)
    return np.asarray(np.clip(np.log10(deepest / K) / 3.0, 0.0, 1.0))


def moved(K: Floats, S: Floats, steps: Floats) -> tuple[Floats, Floats]:
    """Curves K and S (36,) moved by `steps` (n, N): (n, 36) each. Zero steps leave them alone.

    A shift in nanometres moves both curves along the spectrum; all else multiplies.
    """
    steps = np.asarray(steps, dtype=np.float64)
    ln_K, ln_S = np.log(K), np.log(S)
    at = WAVELENGTHS_NM - steps[:, SHIFT, None]
    K_moved = np.stack([np.interp(row, WAVELENGTHS_NM, ln_K) for row in at])
    S_moved = np.stack([np.interp(row, WAVELENGTHS_NM, ln_S) for row in at])
    n_K = len(_K_KNOTS)
    load = steps[:, LOAD, None]
    K_moved += load + steps[:, STRENGTH, None] + steps[:, WINDOWS, None] * windows(K)
    K_moved += steps[:, 5 : 5 + n_K] @ _K_HATS
    S_moved += load + steps[:, LEVEL, None] + steps[:, 5 + n_K :] @ _S_HATS
    return np.exp(K_moved), np.exp(S_moved)


def pack(root: Floats) -> str:
    """A symmetric matrix (N, N) as text, its upper triangle by rows."""
    return " ".join(f"{v:.3g}" for v in root[np.triu_indices(N)])


def unpack(text: str) -> Floats:
    """The inverse of `pack`; ValueError when the count is wrong."""
    values = np.array(text.split(), dtype=np.float64)
    if values.size != N * (N + 1) // 2:
        raise ValueError(f"{N * (N + 1) // 2} numbers are due, not {values.size}")
    root = np.zeros((N, N))
    root[np.triu_indices(N)] = values
    return root + np.triu(root, 1).T
