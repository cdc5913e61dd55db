"""The tree of regions of each set of paints that is screened."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import numpy as np

from tubewise.search.balls import smallest_ball
from tubewise.search.jit import inlined_finite, jit_allocating, jit_finite
from tubewise.search.kernels.amounts import outermost, shares_of
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.objective import value_at
from tubewise.search.kernels.polish import polish
from tubewise.search.screen.bounds import bend
from tubewise.search.screen.planes import Room, Tables, apart
from tubewise.search.screen.vertices import (
    DEEPEST,
    HALF,
    LARGEST,
    ONE,
    ROWS_A_LEVEL,
    WIDE,
    ZERO,
    f4,
    middle_amounts,
    mix,
)
from tubewise.search.sweep import wishes_of

# After so many regions of a set, and again after as many, a region's middle is tried as a recipe.
TRY_EVERY = 64
# Rounds that its local optimum is given.
ROUNDS = np.int64(25)
# A vertex is not drawn in when it would move by less than a tenth of the edge.
DRAWN_IN = f4(0.9)
# The region shrinks when some vertex scores at least half of what the one lacks.
WORTH = f4(2.0)
# A little farther than where the score is zero, to be on the outer side of it.
OUTER, OUT = f4(1.00001), f4(1e-6)
# An edge between two vertices that are clear matters less.
BOTH_CLEAR = f4(0.2)


def room_for(tables: Tables) -> Room:
    """Room for the trees of sets of up to four paints."""
    planes = max(int(tables.sight.starts[-1]), tables.near_reach.shape[2])
    return Room(
        nodes=np.zeros((DEEPEST + 3, LARGEST), np.int64),
        depth=np.zeros(DEEPEST + 3, np.int64),
        turned=np.zeros(planes, np.float32),
        omega=np.zeros(WIDE, np.float32),
        tangent=np.zeros((3, WIDE), np.float32),
        scores=np.zeros(LARGEST, np.float32),
        rows=np.zeros((LARGEST, 3), np.int64),
        shares=np.zeros((LARGEST, 2), np.float32),
        middle=np.zeros(LARGEST),
    )


@inlined_finite
def drawn_in(top, k, first_row, mean, room):
    """Shrink the region to where something better may be: (whether, by how many mixtures).

    It shrinks where one vertex alone scores below zero and another well above. The mixtures' rows
    and shares are left in `room.rows` and `room.shares`, and are in the region already.
    """
    nodes, scores = room.nodes, room.scores
    below = 0
    low = 0
    for v in range(k):
        if scores[v] <= ZERO:
            below += 1
            low = v
    lacks = -scores[low]
    worth = False
    for v in range(k):
        worth = worth or (v != low and lacks < WORTH * scores[v])
    count = 0
    if below == 1 and worth:
        i = nodes[top, low]
        for v in range(k):
            if v == low:
                continue
            part = lacks / (scores[v] + lacks) * OUTER + OUT
            if part > DRAWN_IN:
                continue
            j = nodes[top, v]
            room.rows[count, 0], room.rows[count, 1], room.rows[count, 2] = first_row + v, i, j
            room.shares[count, 0], room.shares[count, 1] = (ONE - part) / mean[i], part / mean[j]
            nodes[top, v] = first_row + v
            count += 1
    return below == 1 and worth, count


@inlined_finite
def cut(top, k, scored, first_row, X, base, room):
    """Cut the uppermost region where it bends most; the mixture's rows and shares are in `room`."""
    nodes, scores = room.nodes, room.scores
    widest = -ONE
    e0, e1 = 0, 1
    for v in range(k):
        for v2 in range(v + 1, k):
            wide = bend(nodes[top, v], nodes[top, v2], X, room.omega, base)
            if scored and scores[v] > ZERO and scores[v2] > ZERO:
                wide *= BOTH_CLEAR
            if wide > widest:
                widest = wide
                e0, e1 = v, v2
    room.rows[0, 0], room.rows[0, 1], room.rows[0, 2] = first_row, nodes[top, e0], nodes[top, e1]
    room.shares[0, 0], room.shares[0, 1] = HALF, HALF
    for v in range(k):
        nodes[top + 1, v] = nodes[top, v]
    nodes[top, e0] = first_row
    nodes[top + 1, e1] = first_row
    room.depth[top + 1] = room.depth[top] + 1


@inlined_finite
def divide(top, k, scored, first_row, vertices, tables, room):
    """Shrink the uppermost region of the stack or cut it in two: what to add to `top`."""
    shrunk = False
    count = 0
    if scored:
        shrunk, count = drawn_in(top, k, first_row, vertices.mean, room)
    if not shrunk:
        cut(top, k, scored, first_row, vertices.X, tables.sight.surface[2], room)
        count = 1
    room.depth[top] += 1
    rows, shares = room.rows, room.shares
    for m in range(count):
        at, i, j = rows[m, 0], rows[m, 1], rows[m, 2]
        mix(at, i, j, shares[m, 0], shares[m, 1], vertices, tables.sight)
    return 1 if shrunk else 2


@jit_allocating
def try_middle(rows, nodes, radius, origin, paints, film, aim, shares_out):
    """The local optimum near a region's middle, where that is nearer than `radius`; else infinity.

    `nodes` (k,): the region's vertices. `shares_out` (k,): the paints' shares there.
    """
    k, n = rows.size, paints.K.shape[0]
    Kv, Sv, volume = np.empty((k, BANDS)), np.empty((k, BANDS)), np.empty((k, k))
    outermost(paints, rows, 0.0, Kv, Sv, volume)
    b = np.empty(k)
    middle_amounts(n, rows, nodes, origin, b)
    work, lab = np.empty((3, BANDS)), np.empty((aim.W.shape[0], 3))
    if not value_at(Kv, Sv, b, film, aim, work, lab) < radius:
        return np.inf
    value = polish(Kv, Sv, b, film, aim, ROUNDS)
    shares_of(b, volume, shares_out)
    return value


@jit_finite
def screen_sets(sets, rules, paints, film, aim, vertices, tables, room, shared, report, still_open):
    """Screen `sets` (m, k) of paints, k <= 4; `still_open` (m,) receives what is not ruled out.

    `rules`: `sweep.Rules`; `shared` (1,): the least cost found by any thread, read and lowered;
    `report`: `sweep.Report` of the best recipe found here.
    """
    n = paints.K.shape[0]
    k = sets.shape[1]
    nodes, depth = room.nodes, room.depth
    # Local optima are only looked for where any proportions will do.
    trying = rules.max_parts == 0 and rules.min_share == 0.0
    for r in range(sets.shape[0]):
        still_open[r] = False
        wished = wishes_of(sets[r], rules)
        need = shared[0] - rules.tolerance - wished
        if need <= 0.0:
            continue
        ball = smallest_ball(need, tables.radii)
        for v in range(k):
            nodes[0, v] = sets[r, v]
        depth[0] = 0
        top = 1
        visits = 0
        while top > 0:
            top -= 1
            visits += 1
            i0 = nodes[top, 0]
            i1 = nodes[top, 1] if k > 1 else i0
            i2 = nodes[top, 2] if k > 2 else i0
            i3 = nodes[top, 3] if k > 3 else i0
            clear, scored = apart(i0, i1, i2, i3, ball, vertices, tables, room)
            # One paint has no proportions to cut; its one colour was met in the first search.
            if clear or k == 1:
                continue
            if visits >= rules.budget or depth[top] >= DEEPEST:
                still_open[r] = True
                break
            if trying and visits % TRY_EVERY == 0:
                report.counts[1] += 1
                radius = tables.radii[ball]
                shares = room.middle[:k]
                value = try_middle(
                    sets[r], nodes[top, :k], radius, vertices.origin, paints, film, aim, shares
                )
                # What is better lowers the bar for all other sets.
                if value + wished < shared[0]:
                    shared[0] = report.cost[0] = value + wished
                    for v in range(k):
                        report.rows[v] = sets[r, v]
                        report.shares[v] = shares[v]
                    still_open[r] = True
                    break
            first_row = n + ROWS_A_LEVEL * depth[top]
            top += divide(top, k, scored, first_row, vertices, tables, room)
        report.counts[0] += visits
