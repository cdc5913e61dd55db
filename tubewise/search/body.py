"""The body of all colours a set of paints mixes to: its skin over a* and b*, and its volume.

Mixtures of up to four paints fill a curved body in CIELAB. Its skin is made of mixtures of three,
but where a fourth bulges out. Each such surface is cut into triangles until they lie within a
tolerance of it, and drawn into a grid over a*, b* that keeps the least and greatest lightness met:
the body is taken to be solid between the two. What a finer grid and tolerance change is stated as
the error.
"""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.search.jit import jit
from tubewise.search.kernels.cielab import lab_of
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.reflectance import reflectance
from tubewise.search.paints import Paints, paints_of
from tubewise.search.prepared import prepare
from tubewise.search.problem import SearchProblem
from tubewise.search.threads import THREADS, spread

# a* and b* of the grid run from -EDGE to EDGE.
EDGE = 128.0
# Triangles that wait at a time; one cut 40 times is as small as a number can tell.
STACK = 3 * 40
# Triangles are drawn so much larger, as parts of themselves: where only one of two neighbours is
# cut, a seam narrower than the tolerance would open.
SEAM = 0.02
# CIELAB units by which a mixture of four must leave the skin before its own surfaces are drawn.
BULGE = 0.4
# Shares, in units of strength, at which a fourth paint's surfaces are drawn.
SLICES = (0.12, 0.3, 0.5, 0.7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fineness:
    """`step` of the grid in a*, b*; `tolerance` of a triangle and its `longest` edge in CIELAB.

    `share`: an edge over which shares change by more is always cut, since a short one may still
    have a hook within.
    """

    step: float
    tolerance: float
    longest: float
    share: float = 0.13


FINE = Fineness(step=0.5, tolerance=0.1, longest=6.0)
HALF = Fineness(step=1.0, tolerance=0.3, longest=10.0)
ROUGH = Fineness(step=2.0, tolerance=0.8, longest=16.0)


class Limits(NamedTuple):
    """A `Fineness` without its grid, as kernels take it."""

    tolerance: float
    longest: float
    share: float


class Skin(NamedTuple):
    """Least and greatest lightness (n, n) over a*, b*; infinite where nothing is."""

    low: Floats
    high: Floats
    step: float


class Surface(NamedTuple):
    """Triangles still to be looked at, as a stack of six points each.

    Three corners, then the middles of the edges from each corner to the next.
    `amounts` (m, 6, 3) of the surface's corners, `lab` (m, 6, 3); `film`: rows of K, S and R of one
    mixture, K of the surface's corners, S of them.
    """

    amounts: Floats
    lab: Floats
    film: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Body:
    """Everything a set of paints reaches. `low`, `high` (n, n): lightness over a*, b*.

    The first axis is a*, the second b*, in steps of `step` from -EDGE; infinite where nothing is.
    `error`: by how much of itself the volume moved when the grid and the tolerance were made
    finer; 0 for a body that was measured once only.
    """

    low: Floats
    high: Floats
    step: float
    error: float = 0.0

    @property
    def thickness(self) -> Floats:
        """Lightness from bottom to top (n, n), 0 where nothing is."""
        return np.maximum(np.where(np.isfinite(self.low), self.high - self.low, 0.0), 0.0)

    @property
    def volume(self) -> float:
        """In cubic units of CIELAB."""
        return float(self.thickness.sum() * self.step**2)

    def shared(self, other: Body) -> float:
        """Volume that two bodies of one step have in common."""
        between = np.minimum(self.high, other.high) - np.maximum(self.low, other.low)
        return float(np.maximum(np.where(np.isfinite(between), between, 0.0), 0.0).sum()) * (
            self.step**2
        )

    def holds(self, lab: Floats, within: float = 0.0) -> NDArray[np.bool_]:
        """Which colours (m, 3) lie in the body, or above or below it by at most `within`.

        To the grid's step: what stands between grid points is judged by the points around.
        """
        n = len(self.low)
        at = np.rint((lab[:, 1:] + EDGE) / self.step).astype(int)
        low, high = np.full(len(lab), np.inf), np.full(len(lab), -np.inf)
        for i, j in product((-1, 0, 1), repeat=2):
            x, y = np.clip(at[:, 0] + i, 0, n - 1), np.clip(at[:, 1] + j, 0, n - 1)
            low, high = np.minimum(low, self.low[x, y]), np.maximum(high, self.high[x, y])
        return (lab[:, 0] >= low - within) & (lab[:, 0] <= high + within)


@jit
def put_point(amounts, lab, paints, film):
    """CIELAB (3,) of the mixture of a surface's corners in `amounts` (3,), into `lab`."""
    K, S, R = film[0], film[1], film[2]
    c0, c1, c2 = amounts[0], amounts[1], amounts[2]
    K0, K1, K2 = film[3], film[4], film[5]
    S0, S1, S2 = film[6], film[7], film[8]
    for w in range(BANDS):
        K[w] = c0 * K0[w] + c1 * K1[w] + c2 * K2[w]
        S[w] = c0 * S0[w] + c1 * S1[w] + c2 * S2[w]
    reflectance(K, S, paints.film, R)
    x, y, z = 0.0, 0.0, 0.0
    for w in range(BANDS):
        x += paints.W[0, w] * R[w]
        y += paints.W[1, w] * R[w]
        z += paints.W[2, w] * R[w]
    lab[0], lab[1], lab[2] = lab_of(x, y, z)


@jit
def off_chord(lab, a, b, m):
    """How far vertex m lies from the line through a and b, and how long that is."""
    d0, d1, d2 = lab[b, 0] - lab[a, 0], lab[b, 1] - lab[a, 1], lab[b, 2] - lab[a, 2]
    e0, e1, e2 = lab[m, 0] - lab[a, 0], lab[m, 1] - lab[a, 1], lab[m, 2] - lab[a, 2]
    length2 = d0 * d0 + d1 * d1 + d2 * d2
    along = e0 * d0 + e1 * d1 + e2 * d2
    square = e0 * e0 + e1 * e1 + e2 * e2
    if length2 < 1e-12:
        return math.sqrt(square), 0.0
    return math.sqrt(max(square - along * along / length2, 0.0)), math.sqrt(length2)


@jit
def draw_triangle(lab, a, b, c, skin):
    """Widen the skin at every grid point under the triangle of vertices a, b, c."""
    xa, ya = (lab[a, 1] + EDGE) / skin.step, (lab[a, 2] + EDGE) / skin.step
    xb, yb = (lab[b, 1] + EDGE) / skin.step, (lab[b, 2] + EDGE) / skin.step
    xc, yc = (lab[c, 1] + EDGE) / skin.step, (lab[c, 2] + EDGE) / skin.step
    area = (xb - xa) * (yc - ya) - (xc - xa) * (yb - ya)
    if abs(area) < 1e-12:
        return
    n = skin.low.shape[0]
    for i in range(max(math.ceil(min(xa, xb, xc)), 0), min(math.floor(max(xa, xb, xc)), n - 1) + 1):
        for j in range(
            max(math.ceil(min(ya, yb, yc)), 0), min(math.floor(max(ya, yb, yc)), n - 1) + 1
        ):
            u = ((xb - i) * (yc - j) - (xc - i) * (yb - j)) / area
            v = ((xc - i) * (ya - j) - (xa - i) * (yc - j)) / area
            t = 1.0 - u - v
            if min(u, v, t) >= -SEAM:
                L = u * lab[a, 0] + v * lab[b, 0] + t * lab[c, 0]
                skin.low[i, j] = min(skin.low[i, j], L)
                skin.high[i, j] = max(skin.high[i, j], L)


@jit
def draw_surface(paints, surface, skin, fine):
    """Draw the surface of all mixtures of three corners, whose optics stand in `surface.film`.

    A triangle is cut in four when the middle of an edge lies off it or an edge is too long.
    """
    amounts, lab, film = surface.amounts, surface.lab, surface.film
    for a in range(3):
        for i in range(3):
            amounts[0, a, i] = 1.0 if i == a else 0.0
        put_point(amounts[0, a], lab[0, a], paints, film)
    waiting = 1
    while waiting > 0:
        waiting -= 1
        here, seen = amounts[waiting], lab[waiting]
        worst = 0.0
        for p in range(3):
            q = (p + 1) % 3
            share = 0.0
            for i in range(3):
                here[3 + p, i] = 0.5 * (here[p, i] + here[q, i])
                share = max(share, abs(here[p, i] - here[q, i]))
            put_point(here[3 + p], seen[3 + p], paints, film)
            off, length = off_chord(seen, p, q, 3 + p)
            worst = max(worst, off / fine.tolerance, length / fine.longest, share / fine.share)
        if worst <= 1.0 or waiting + 4 > amounts.shape[0]:
            draw_triangle(seen, 0, 1, 2, skin)
            continue
        # The three outer triangles above, then the inner one in this one's place.
        for p in range(3):
            for i in range(3):
                for array in (amounts, lab):
                    array[waiting + 1 + p, 0, i] = array[waiting, p, i]
                    array[waiting + 1 + p, 1, i] = array[waiting, 3 + p, i]
                    array[waiting + 1 + p, 2, i] = array[waiting, 3 + (p + 2) % 3, i]
        for p in range(3):
            for i in range(3):
                here[p, i] = here[3 + p, i]
                seen[p, i] = seen[3 + p, i]
        waiting += 4


@jit
def draw_triples(triples, paints, surface, skin, fine):
    """Draw the surfaces of all mixtures of the paints in each of `triples` (m, 3)."""
    for r in range(triples.shape[0]):
        for a in range(3):
            for w in range(BANDS):
                surface.film[3 + a, w] = paints.K[triples[r, a], w]
                surface.film[6 + a, w] = paints.S[triples[r, a], w]
        draw_surface(paints, surface, skin, fine)


@jit
def bulge_of(rows, lattice, paints, surface, skin):
    """How far mixtures of four `rows` in the shares `lattice` (m, 4) leave the skin, CIELAB."""
    most = 0.0
    n = skin.low.shape[0]
    for r in range(lattice.shape[0]):
        for w in range(BANDS):
            surface.film[3, w] = 0.0
            surface.film[6, w] = 0.0
            for a in range(4):
                surface.film[3, w] += lattice[r, a] * paints.K[rows[a], w]
                surface.film[6, w] += lattice[r, a] * paints.S[rows[a], w]
        first, lab = surface.amounts[0, 0], surface.lab[0, 0]
        first[0], first[1], first[2] = 1.0, 0.0, 0.0
        put_point(first, lab, paints, surface.film)
        x, y = round((lab[1] + EDGE) / skin.step), round((lab[2] + EDGE) / skin.step)
        low, high = np.inf, -np.inf
        for i in range(max(x - 1, 0), min(x + 2, n)):
            for j in range(max(y - 1, 0), min(y + 2, n)):
                low = min(low, skin.low[i, j])
                high = max(high, skin.high[i, j])
        out = max(low - lab[0], lab[0] - high)
        most = max(most, out if low <= high else 2.0 * skin.step)
    return most


@jit
def draw_slices(rows, shares, paints, surface, skin, fine):
    """Draw, for each of four `rows` at each of `shares`, the surface of the others' mixtures."""
    for d in range(4):
        for s in shares:
            corner = 0
            for a in range(4):
                if a == d:
                    continue
                for w in range(BANDS):
                    surface.film[3 + corner, w] = (1.0 - s) * paints.K[rows[a], w] + s * (
                        paints.K[rows[d], w]
                    )
                    surface.film[6 + corner, w] = (1.0 - s) * paints.S[rows[a], w] + s * (
                        paints.S[rows[d], w]
                    )
                corner += 1
            draw_surface(paints, surface, skin, fine)


def limits_of(fine: Fineness) -> Limits:
    """What a triangle may be."""
    return Limits(fine.tolerance, fine.longest, fine.share)


def empty_skin(step: float) -> Skin:
    """A skin with nothing under it."""
    n = round(2.0 * EDGE / step) + 1
    return Skin(np.full((n, n), np.inf), np.full((n, n), -np.inf), step)


def surface() -> Surface:
    """Room for the triangles of one surface."""
    return Surface(
        np.empty((STACK, 6, 3)),
        np.empty((STACK, 6, 3)),
        np.empty((9, BANDS)),
    )


def _lattice(parts: int) -> Floats:
    """Shares (m, 4) of all ways to divide so many parts among four, none without."""
    ways = [
        (a, b, c, parts - a - b - c)
        for a in range(1, parts)
        for b in range(1, parts - a)
        for c in range(1, parts - a - b)
    ]
    return np.array(ways, dtype=np.float64) / parts


LATTICE = _lattice(7)


def widen(
    skin: Skin,
    paints: Paints,
    triples: NDArray[np.int64],
    quads: Sequence[tuple[int, ...]],
    fine: Fineness,
) -> Skin:
    """The skin with the surfaces of `triples` (m, 3), and of those `quads` that bulge out of it."""

    def drawn(part: NDArray[np.int64]) -> Skin:
        skin = empty_skin(fine.step)
        draw_triples(part, paints, surface(), skin, limits_of(fine))
        return skin

    parts = np.array_split(triples, min(THREADS, max(len(triples) // 8, 1)))
    wide = merged([skin, *spread(drawn, parts)])
    room = surface()
    for rows in quads:
        four = np.array(rows, np.int64)
        if bulge_of(four, LATTICE, paints, room, wide) > BULGE:
            draw_slices(four, np.array(SLICES), paints, room, wide, limits_of(fine))
    return wide


def merged(skins: Sequence[Skin]) -> Skin:
    """One skin around all."""
    low, high = skins[0].low, skins[0].high
    for skin in skins[1:]:
        low, high = np.minimum(low, skin.low), np.maximum(high, skin.high)
    return Skin(low.copy(), high.copy(), skins[0].step)


def skin_of(paints: Paints, rows: Sequence[int], fine: Fineness) -> Skin:
    """The skin of all mixtures of up to four of `rows`, and of the free paint if there is one."""
    used = sorted({*rows, *([paints.free] if paints.free >= 0 else [])})
    triples = np.array(list(combinations(used, 3)), np.int64).reshape(-1, 3)
    return widen(empty_skin(fine.step), paints, triples, list(combinations(used, 4)), fine)


def body(ask: SearchProblem, rows: Sequence[int], *, free: int = -1, fine: Fineness = FINE) -> Body:
    """The body of all mixtures of up to four of `rows` of `ask.K`, and the error of its volume.

    `free` is the row of a paint always at hand (water, white), or -1. The light and the film are
    those of `ask`. Fewer than three paints have no volume.
    """
    paints = paints_of(prepare(ask), free)
    skin = skin_of(paints, rows, fine)
    rough = Fineness(
        step=2.0 * fine.step,
        tolerance=3.0 * fine.tolerance,
        longest=1.6 * fine.longest,
        share=2.0 * fine.share,
    )
    before = as_body(skin_of(paints, rows, rough)).volume
    volume = as_body(skin).volume
    return as_body(skin, abs(volume - before) / volume if volume > 0.0 else 0.0)


def as_body(skin: Skin, error: float = 0.0) -> Body:
    """A skin as a result."""
    return Body(low=skin.low, high=skin.high, step=skin.step, error=error)
