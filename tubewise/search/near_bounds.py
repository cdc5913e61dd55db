"""What rules out a simplex of mixtures: planes between it and the colours near enough, and boxes.

A simplex is a list of vertices of the `Work` of `near_sets`; within it an opaque film's reflectance
lies band by band between those of the vertices.
"""

# Kernels take the types of `near_sets`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

import numpy as np

from tubewise.search.aim import STEEPEST, reach_along
from tubewise.search.jit import jit
from tubewise.search.kernels.ciede2000 import delta_e
from tubewise.search.kernels.cielab import lab_of
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.reflectance import reflectance

# Across the line where hues lie opposite CIEDE2000 jumps by up to this part of itself.
JUMP = 0.02
# Vertices whose reflectances bound each other at a time.
TRIPLE = 3


@jit
def nearest_point(cell, size, work):
    """The point of a simplex nearest to the target in t, into `three[0]`, by a few descents."""
    p = work.three[0]
    for i in range(3):
        p[i] = 0.0
        for a in range(size):
            p[i] += work.t[cell[a], i] / size
    for _ in range(3):
        best, least = 0, np.inf
        for a in range(size):
            t = work.t[cell[a]]
            along = p[0] * t[0] + p[1] * t[1] + p[2] * t[2]
            if along < least:
                best, least = a, along
        t = work.t[cell[best]]
        d0, d1, d2 = p[0] - t[0], p[1] - t[1], p[2] - t[2]
        square = d0 * d0 + d1 * d1 + d2 * d2
        if square <= 0.0:
            return
        step = min(max((p[0] * d0 + p[1] * d1 + p[2] * d2) / square, 0.0), 1.0)
        p[0] -= step * d0
        p[1] -= step * d1
        p[2] -= step * d2


@jit
def ruled_out(cell, size, paints, aim, work):
    """Whether a plane parts the simplex with vertices `cell` (size,) from the ball."""
    nearest_point(cell, size, work)
    x, y, z = work.three[0, 0], work.three[0, 1], work.three[0, 2]
    if x * x + y * y + z * z < 1e-18:
        return False
    bound = reach_along(x, y, z, aim.reach)
    for a in range(size):
        t = work.t[cell[a]]
        if x * t[0] + y * t[1] + z * t[2] <= bound:
            return False
    bound += x * aim.centre[0] + y * aim.centre[1] + z * aim.centre[2]
    if paints.film.thickness > 0.0:
        film_between(cell, size, paints, work)
        return least_between(work.spare[0], work.spare[1], work.spare[1], x, y, z, aim) > bound
    if size <= TRIPLE:
        # One that is missing repeats the last.
        R0, R1, R2 = work.R[cell[0]], work.R[cell[1]], work.R[cell[size - 1]]
        return least_between(R0, R1, R2, x, y, z, aim) > bound
    low, high = work.spare[0], work.spare[1]
    for w in range(BANDS):
        low[w], high[w] = work.R[cell[0], w], work.R[cell[0], w]
        for a in range(1, size):
            low[w] = min(low[w], work.R[cell[a], w])
            high[w] = max(high[w], work.R[cell[a], w])
    return least_between(low, high, high, x, y, z, aim) > bound


@jit
def least_between(R0, R1, R2, x, y, z, aim):
    """Least of (x, y, z) @ bands @ R for any R that lies between the three, band by band."""
    least = 0.0
    for w in range(BANDS):
        g = x * aim.bands[0, w] + y * aim.bands[1, w] + z * aim.bands[2, w]
        low = min(min(R0[w], R1[w]), R2[w])
        high = max(max(R0[w], R1[w]), R2[w])
        least += max(g, 0.0) * low + min(g, 0.0) * high
    return least


@jit
def film_between(cell, size, paints, work):
    """Least and greatest reflectance of films within a simplex, into the first two of `spare`."""
    for darkest in range(2):
        Km, Sm = work.spare[2], work.spare[3]
        for w in range(BANDS):
            Km[w] = work.K[cell[0], w]
            Sm[w] = work.S[cell[0], w]
            for a in range(1, size):
                if darkest == 0:
                    Km[w] = max(Km[w], work.K[cell[a], w])
                    Sm[w] = min(Sm[w], work.S[cell[a], w])
                else:
                    Km[w] = min(Km[w], work.K[cell[a], w])
                    Sm[w] = max(Sm[w], work.S[cell[a], w])
        reflectance(Km, Sm, paints.film, work.spare[darkest])


@jit
def boxed_out(cell, size, paints, aim, work):
    """Whether the box in CIELAB around a small simplex lies beyond the radius."""
    low, high = work.spare[0], work.spare[1]
    if paints.film.thickness > 0.0:
        film_between(cell, size, paints, work)
    else:
        for w in range(BANDS):
            low[w] = work.R[cell[0], w]
            high[w] = work.R[cell[0], w]
            for a in range(1, size):
                low[w] = min(low[w], work.R[cell[a], w])
                high[w] = max(high[w], work.R[cell[a], w])
    ratio, dark, light = work.three[0], work.three[1], work.three[2]
    for i in range(3):
        dark[i], light[i] = 0.0, 0.0
        for w in range(BANDS):
            weight = paints.W[i, w]
            dark[i] += max(weight, 0.0) * low[w] + min(weight, 0.0) * high[w]
            light[i] += max(weight, 0.0) * high[w] + min(weight, 0.0) * low[w]
        ratio[i] = dark[i]
    dark[0], dark[1], dark[2] = lab_of(ratio[0], ratio[1], ratio[2])
    for i in range(3):
        ratio[i] = light[i]
    light[0], light[1], light[2] = lab_of(ratio[0], ratio[1], ratio[2])
    # L* is 116 f(Y) - 16, a* 500 (f(X) - f(Y)), b* 200 (f(Y) - f(Z)): f(Y) by itself moves all.
    dL = 0.5 * (light[0] - dark[0])
    fy = dL / 116.0
    fx = 0.5 * (light[1] - dark[1]) / 500.0 + fy
    fz = fy - 0.5 * (light[2] - dark[2]) / 200.0
    da, db = 500.0 * (fx + fy), 200.0 * (fy + fz)
    away = math.sqrt(dL * dL + da * da + db * db)
    e = delta_e(
        aim.target[0],
        aim.target[1],
        aim.target[2],
        0.5 * (dark[0] + light[0]),
        0.5 * (dark[1] + light[1]),
        0.5 * (dark[2] + light[2]),
    )
    return e - STEEPEST * away > (1.0 + JUMP) * aim.radius


@jit
def longest_edge(cell, size, work):
    """The two vertices of a simplex that differ most, and by how much, summed over the bands."""
    most, at, other = -1.0, 0, 1
    for a in range(size):
        for b in range(a + 1, size):
            apart = 0.0
            for w in range(BANDS):
                apart += abs(work.R[cell[a], w] - work.R[cell[b], w])
            if apart > most:
                most, at, other = apart, a, b
    return at, other, most
