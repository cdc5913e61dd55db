"""The tree of regions of each set of paints."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from typing import NamedTuple

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.search.balls import Balls, smallest_ball
from tubewise.search.branch.planes import Planes, apart
from tubewise.search.branch.vertices import DEEPEST, place
from tubewise.search.jit import inlined, jit
from tubewise.search.kernels.amounts import outermost, shares_of
from tubewise.search.kernels.layout import BANDS, Film, Indices
from tubewise.search.kernels.polish import polish
from tubewise.search.kernels.whole_parts import count_parts, try_parts
from tubewise.search.sweep import wishes_of

# At most so many whole-part recipes are left in a region before they are simply tried.
FEW_PARTS = 6
# Region visits after which a set's local optimum is looked for, and again at every doubling.
POLISH_AFTER = 50
# Rounds that a local optimum is given, and the mixtures these are counted as.
ROUNDS, MIXTURES = np.int64(25), 10
# A local optimum so much below the radius, in parts of it or in itself, deserves a smaller ball.
BETTER_PART, BETTER = 0.98, 0.05
# From this depth on, regions are small enough to deserve the exact touching plane.
CLOSE = 9

RULED_OUT, OPEN = 0, 1


class Room(NamedTuple):
    """Room for the tree of one set of k paints, and what is found in it.

    `nodes` (levels, k): each open region's vertices, of which the first k are the set's own;
    `depth` (levels,); `amounts` (vertices, k): a vertex in amounts of the first k. `Kv`, `Sv`
    (k, 36), `volume` (k, k): see `amounts.outermost`. `b`, `share`, `low`, `high`, `trial`,
    `fewest`, `most` (k,), `work` (3, 36) and `lab` (illuminants, 3) are overwritten.
    `shares`, `parts` (k,): the recipe found.
    """

    nodes: Indices
    depth: Indices
    amounts: Floats
    Kv: Floats
    Sv: Floats
    volume: Floats
    b: Floats
    share: Floats
    low: Floats
    high: Floats
    work: Floats
    lab: Floats
    trial: Indices
    fewest: Indices
    most: Indices
    shares: Floats
    parts: Indices
    planes: Planes


def room_for(size: int, film: Film, balls: Balls) -> Room:
    """Room for sets of `size` paints."""
    amounts = np.zeros((size + DEEPEST + 1, size))
    amounts[:size] = np.eye(size)
    return Room(
        nodes=np.zeros((DEEPEST + 4, size), np.int64),
        depth=np.zeros(DEEPEST + 4, np.int64),
        amounts=amounts,
        Kv=np.zeros((size, BANDS)),
        Sv=np.zeros((size, BANDS)),
        volume=np.zeros((size, size)),
        b=np.zeros(size),
        share=np.zeros(size),
        low=np.zeros(size),
        high=np.zeros(size),
        work=np.zeros((3, BANDS)),
        lab=np.zeros((len(balls.A), 3)),
        shares=np.zeros(size),
        trial=np.ones(size, np.int64),
        fewest=np.ones(size, np.int64),
        most=np.ones(size, np.int64),
        parts=np.ones(size, np.int64),
        planes=Planes(
            ids=np.zeros(size, np.int64),
            points=np.zeros((1 if film.thickness > 0.0 else size, 3)),
            middle=np.zeros(BANDS),
            half=np.zeros(BANDS),
            along=np.zeros(balls.normals.shape[1]),
            margins=np.zeros(size),
            omega=np.zeros(BANDS),
            normal=np.zeros(3),
            touch=np.zeros(3),
            grad=np.zeros(3),
            metric=np.zeros((3, 3)),
            work=np.zeros((4, BANDS)),
        ),
    )


@inlined
def _begin(rows, smallest, paints, vertices, film, aim, balls, room):
    """Make the region of all shares of `rows` (k,) the only one, none below `smallest`."""
    k, n = rows.size, paints.K.shape[0]
    outermost(paints, rows, smallest, room.Kv, room.Sv, room.volume)
    for v in range(k):
        room.nodes[0, v] = v
        if smallest > 0.0:
            for w in range(BANDS):
                vertices.K[n + v, w] = room.Kv[v, w]
                vertices.S[n + v, w] = room.Sv[v, w]
            place(n + v, vertices, film, aim.W, balls)
    room.depth[0] = 0


@inlined
def _shares_within(top, room):
    """The least and greatest share of each paint in a region, into `low` and `high`."""
    k = room.b.size
    for i in range(k):
        room.low[i] = 1.0
        room.high[i] = 0.0
    for v in range(k):
        for i in range(k):
            room.b[i] = room.amounts[room.nodes[top, v], i]
        shares_of(room.b, room.volume, room.share)
        for i in range(k):
            room.low[i] = min(room.low[i], room.share[i])
            room.high[i] = max(room.high[i], room.share[i])


@inlined
def _local_optimum(top, film, aim, room):
    """The objective at the local optimum nearest to a region's middle; its amounts are in `b`."""
    k = room.b.size
    for i in range(k):
        room.b[i] = 0.0
        for v in range(k):
            room.b[i] += room.amounts[room.nodes[top, v], i] / k
    return polish(room.Kv, room.Sv, room.b, film, aim, ROUNDS)


@inlined
def _cut(top, n, vertices, film, aim, balls, room):
    """Cut a region in two across the edge whose ends differ most in reflectance."""
    ids, nodes, amounts = room.planes.ids, room.nodes, room.amounts
    k = ids.size
    widest = -1.0
    e0 = 0
    e1 = 1
    for v in range(k):
        for v2 in range(v + 1, k):
            far = 0.0
            for w in range(BANDS):
                far += abs(vertices.R[ids[v], w] - vertices.R[ids[v2], w])
            if far > widest:
                widest = far
                e0, e1 = v, v2
    new = k + room.depth[top]
    at, i0, i1 = n + new, ids[e0], ids[e1]
    for w in range(BANDS):
        vertices.K[at, w] = 0.5 * (vertices.K[i0, w] + vertices.K[i1, w])
        vertices.S[at, w] = 0.5 * (vertices.S[i0, w] + vertices.S[i1, w])
    n0, n1 = nodes[top, e0], nodes[top, e1]
    for i in range(k):
        amounts[new, i] = 0.5 * (amounts[n0, i] + amounts[n1, i])
    place(at, vertices, film, aim.W, balls)
    for v in range(k):
        nodes[top + 1, v] = nodes[top, v]
    nodes[top, e0] = new
    nodes[top + 1, e1] = new
    room.depth[top] += 1
    room.depth[top + 1] = room.depth[top]


@inlined
def examine(rows, ball, least, rules, paints, vertices, film, aim, balls, room, counts):
    """Rule out or solve one set of paints `rows` (k,): (RULED_OUT or OPEN, the least value known).

    Ruled out: no recipe of the set is nearer than the radius of the `ball`, or than the value
    returned. `least`: recipes at least so far are of no interest; where a nearer one is found
    `room` holds it. `counts` (2,): regions and mixtures, added to.
    """
    k, n = rows.size, paints.K.shape[0]
    radius = balls.radii[ball]
    smallest = rules.min_share
    if rules.max_parts > 0:
        smallest = max(smallest, 1.0 / rules.max_parts)
    if k * smallest > 1.0 + 1e-9:
        return RULED_OUT, least
    smallest = min(smallest, 1.0 / k)
    _begin(rows, smallest, paints, vertices, film, aim, balls, room)
    top = 1
    visits = 0
    polish_at = POLISH_AFTER
    state = RULED_OUT
    while top > 0:
        top -= 1
        depth = room.depth[top]
        for v in range(k):
            node = room.nodes[top, v]
            room.planes.ids[v] = rows[node] if (node < k and smallest == 0.0) else n + node
        visits += 1
        if apart(ball, depth >= CLOSE, vertices, film, aim, balls, room.planes):
            continue
        if rules.max_parts > 0:
            _shares_within(top, room)
            few = count_parts(room.low, room.high, rules.max_parts, FEW_PARTS) <= FEW_PARTS
            if few or depth >= DEEPEST - 1:
                least = try_parts(rows, least, rules, paints, film, aim, room, counts)
                continue
        elif visits >= polish_at:
            polish_at *= 2
            value = _local_optimum(top, film, aim, room)
            counts[1] += MIXTURES
            if value < least:
                least = value
                shares_of(room.b, room.volume, room.shares)
                if value < radius * BETTER_PART or value < radius - BETTER:
                    state = OPEN
                    break
        if visits >= rules.budget:
            state = OPEN
            break
        if depth >= DEEPEST - 1:
            # Nothing more can be said of this speck; the rest may still hold something better.
            state = OPEN
            continue
        # One paint has no proportions to cut; its one colour was met in the first search.
        if k > 1:
            _cut(top, n, vertices, film, aim, balls, room)
            top += 2
    counts[0] += visits
    return state, least


@jit
def examine_sets(sets, rules, paints, vertices, film, aim, balls, room, shared, report, still_open):
    """Examine `sets` (m, size) of paints; `still_open` (m,) receives what is not ruled out.

    `rules`: `sweep.Rules`; `shared` (1,): the least cost found by any thread, read and lowered;
    `report`: `sweep.Report` of the best recipe found here.
    """
    size = sets.shape[1]
    for r in range(sets.shape[0]):
        wished = wishes_of(sets[r], rules)
        need = shared[0] - rules.tolerance - wished
        still_open[r] = False
        if need <= 0.0:
            continue
        least = shared[0] - wished
        state, value = examine(
            sets[r],
            smallest_ball(need, balls.radii),
            least,
            rules,
            paints,
            vertices,
            film,
            aim,
            balls,
            room,
            report.counts,
        )
        still_open[r] = state == OPEN
        cost = value + wished
        if value < least and cost < report.cost[0]:
            report.cost[0] = cost
            for v in range(size):
                report.rows[v] = sets[r, v]
                report.shares[v] = room.shares[v]
                report.parts[v] = room.parts[v]
            if cost < shared[0]:
                shared[0] = cost
