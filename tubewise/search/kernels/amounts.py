"""Amounts of a set of paints, counted so that half and half looks half-way.

An opaque mixture's colour does not change when every paint's K and S are scaled with its amount, so
amounts are in units of each paint's strength (`prepared.strength_units`): half and half then lies
about half-way in appearance, for white with phthalocyanine as for white with ochre. Where no paint
may have less than a smallest share, they are amounts of the mixtures at the ends of what may be.
"""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from tubewise.search.jit import jit
from tubewise.search.kernels.layout import BANDS


@jit
def outermost(paints, rows, floor, Kv, Sv, volume):
    """The mixtures at the ends of the shares allowed to `rows` (k,) of the `Paints`.

    With no smallest share they are the paints themselves. Fills `Kv`, `Sv` (k, 36) and `volume`
    (k, k): the volume of each paint in one unit of amount of each mixture.
    """
    k = rows.size
    for v in range(k):
        for w in range(BANDS):
            Kv[v, w] = 0.0
            Sv[v, w] = 0.0
        for i in range(k):
            share = floor + (1.0 - k * floor if i == v else 0.0)
            amount = share * paints.unit[rows[v]]
            volume[v, i] = amount
            if amount > 0.0:
                for w in range(BANDS):
                    Kv[v, w] += amount * paints.K[rows[i], w]
                    Sv[v, w] += amount * paints.S[rows[i], w]


@jit
def shares_of(b, volume, out):
    """Volume shares (k,) of the paints from amounts `b` (k,) of the outermost mixtures."""
    k = b.size
    total = 0.0
    for i in range(k):
        out[i] = 0.0
        for v in range(k):
            out[i] += b[v] * volume[v, i]
        total += out[i]
    for i in range(k):
        out[i] /= total


@jit
def amounts_of(shares, unit, rows, floor, b):
    """Amounts `b` (k,) from volume shares (k,); shares below the floor are lifted."""
    k = b.size
    total = 0.0
    for i in range(k):
        b[i] = max(shares[i] - floor, 0.0) / unit[rows[i]]
        total += b[i]
    for i in range(k):
        b[i] = b[i] / total if total > 0.0 else 1.0 / k
