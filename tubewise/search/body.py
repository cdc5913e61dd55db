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

from tubewise.search.beam import THREADS, spread
from tubewise.search.jit import jit
from tubewise.search.kernels import BANDS, lab_of_ratios, reflectance
from tubewise.search.paints import Paints, paints_of
from tubewise.search.problem import Floats, SearchProblem, prepare

# a* and b* of the grid run from -EDGE to EDGE.
EDGE = 128.0
# Vertices of one surface; a surface that needs more is drawn as fine as these allow.
MOST_VERTICES = 20_000
# CIELAB units by which a mixture of four must leave the skin before its own surfaces are drawn.
BULGE = 0.4
# Shares, in units of strength, at which a fourth paint's surfaces are drawn.
SLICES = (0.12, 0.3, 0.5, 0.7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fineness:
    """`step` of the grid in a*, b*; `tolerance` of a triangle and its `longest` edge in CIELAB."""

    step: float
    tolerance: float
    longest: float


FINE = Fineness(step=0.5, tolerance=0.1, longest=6.0)
HALF = Fineness(step=1.0, tolerance=0.3, longest=10.0)
ROUGH = Fineness(step=2.0, tolerance=0.8, longest=16.0)


class Skin(NamedTuple):
    """Least and greatest lightness (n, n) over a*, b*; infinite where nothing is."""

    low: Floats
    high: Floats
    step: float


class Surface(NamedTuple):
    """The vertices of one surface: amounts (m, 3) of its corners, CIELAB (m, 3), and a film."""

    amounts: Floats
    lab: Floats
    cells: NDArray[np.int64]
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
def put_point(v, paints, surface):
    """Fill in CIELAB of vertex v from its amounts of the three corners."""
    K, S, R = surface.film[0], surface.film[1], surface.film[2]
    c0, c1, c2 = surface.amounts[v, 0], surface.amounts[v, 1], surface.amounts[v, 2]
    # The corners, which may be mixtures themselves: three rows of K, three of S.
    K0, K1, K2 = surface.film[3], surface.film[4], surface.film[5]
    S0, S1, S2 = surface.film[6], surface.film[7], surface.film[8]
    for w in range(BANDS):
        K[w] = c0 * K0[w] + c1 * K1[w] + c2 * K2[w]
        S[w] = c0 * S0[w] + c1 * S1[w] + c2 * S2[w]
    reflectance(K, S, paints.medium, paints.ground, R)
    x, y, z = 0.0, 0.0, 0.0
    for w in range(BANDS):
        x += paints.W[0, w] * R[w]
        y += paints.W[1, w] * R[w]
        z += paints.W[2, w] * R[w]
    ratio = surface.film[9]
    ratio[0], ratio[1], ratio[2] = x, y, z
    lab_of_ratios(ratio, surface.lab[v])


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
            if u >= -1e-9 and v >= -1e-9 and t >= -1e-9:
                L = u * lab[a, 0] + v * lab[b, 0] + t * lab[c, 0]
                skin.low[i, j] = min(skin.low[i, j], L)
                skin.high[i, j] = max(skin.high[i, j], L)


@jit
def draw_surface(paints, surface, skin, tolerance, longest):
    """Draw the surface of all mixtures of three corners, whose optics stand in `surface.film`.

    An edge is cut when its middle lies off it or it is too long: the same in both triangles that
    share it, so that no gap opens between them.
    """
    amounts, lab, cells = surface.amounts, surface.lab, surface.cells
    for a in range(3):
        for i in range(3):
            amounts[a, i] = 1.0 if i == a else 0.0
        put_point(a, paints, surface)
        cells[0, a] = a
    met, waiting = 3, 1
    while waiting > 0:
        waiting -= 1
        a, b, c = cells[waiting, 0], cells[waiting, 1], cells[waiting, 2]
        worst, at = 0.0, -1
        for edge in range(3):
            p, q = (a, b) if edge == 0 else ((b, c) if edge == 1 else (c, a))
            m = met + edge
            for i in range(3):
                amounts[m, i] = 0.5 * (amounts[p, i] + amounts[q, i])
            put_point(m, paints, surface)
            off, length = off_chord(lab, p, q, m)
            score = max(off / tolerance, length / longest)
            if score > worst:
                worst, at = score, edge
        if worst <= 1.0 or met + 8 > MOST_VERTICES or waiting + 3 > cells.shape[0]:
            draw_triangle(lab, a, b, c, skin)
            continue
        m = met + at
        for i in range(3):
            amounts[met, i] = amounts[m, i]
            lab[met, i] = lab[m, i]
        if at == 0:
            p, q, r = a, b, c
        elif at == 1:
            p, q, r = b, c, a
        else:
            p, q, r = c, a, b
        cells[waiting, 0], cells[waiting, 1], cells[waiting, 2] = p, met, r
        cells[waiting + 1, 0], cells[waiting + 1, 1], cells[waiting + 1, 2] = met, q, r
        waiting += 2
        met += 1


@jit
def draw_triples(triples, paints, surface, skin, tolerance, longest):
    """Draw the surfaces of all mixtures of the paints in each of `triples` (m, 3)."""
    for r in range(triples.shape[0]):
        for a in range(3):
            surface.film[3 + a] = paints.K[triples[r, a]]
            surface.film[6 + a] = paints.S[triples[r, a]]
        draw_surface(paints, surface, skin, tolerance, longest)


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
        surface.amounts[0, 0], surface.amounts[0, 1], surface.amounts[0, 2] = 1.0, 0.0, 0.0
        put_point(0, paints, surface)
        lab = surface.lab[0]
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
def draw_slices(rows, shares, paints, surface, skin, tolerance, longest):
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
            draw_surface(paints, surface, skin, tolerance, longest)


def empty_skin(step: float) -> Skin:
    """A skin with nothing under it."""
    n = round(2.0 * EDGE / step) + 1
    return Skin(np.full((n, n), np.inf), np.full((n, n), -np.inf), step)


def surface() -> Surface:
    """Room for the vertices of one surface."""
    return Surface(
        np.empty((MOST_VERTICES, 3)),
        np.empty((MOST_VERTICES, 3)),
        np.empty((400, 3), np.int64),
        np.empty((10, BANDS)),
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
        one = empty_skin(fine.step)
        draw_triples(part, paints, surface(), one, fine.tolerance, fine.longest)
        return one

    parts = np.array_split(triples, min(THREADS, max(len(triples) // 8, 1)))
    wide = merged([skin, *spread(drawn, parts)])
    room = surface()
    for rows in quads:
        four = np.array(rows, np.int64)
        if bulge_of(four, LATTICE, paints, room, wide) > BULGE:
            draw_slices(four, np.array(SLICES), paints, room, wide, fine.tolerance, fine.longest)
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
        step=2.0 * fine.step, tolerance=3.0 * fine.tolerance, longest=1.6 * fine.longest
    )
    before = as_body(skin_of(paints, rows, rough)).volume
    volume = as_body(skin).volume
    return as_body(skin, abs(volume - before) / volume if volume > 0.0 else 0.0)


def as_body(skin: Skin, error: float = 0.0) -> Body:
    """A skin as a result."""
    return Body(low=skin.low, high=skin.high, step=skin.step, error=error)
