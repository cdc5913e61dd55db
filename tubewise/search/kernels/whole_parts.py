"""Whole parts: every way to squeeze a set of paints in at most so many parts."""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

import numpy as np

from tubewise.search.jit import jit, jit_allocating
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.objective import value_of_reflectance
from tubewise.search.kernels.reflectance import reflectance


@jit
def common_divisor(parts):
    """The greatest common divisor of parts (k,)."""
    g = 0
    for p in parts:
        a, b = g, p
        while b:
            a, b = b, a % b
        g = a
    return g


@jit
def parts_value(rows, parts, paints, film, aim, work, lab):
    """The objective of whole parts (k,) of paints `rows` (k,); `work` (3, 36) is overwritten."""
    k = rows.size
    total = 0
    for i in range(k):
        total += parts[i]
    for w in range(BANDS):
        work[0, w] = 0.0
        work[1, w] = 0.0
    for i in range(k):
        share = parts[i] / total
        for w in range(BANDS):
            work[0, w] += share * paints.K[rows[i], w]
            work[1, w] += share * paints.S[rows[i], w]
    reflectance(work[0], work[1], film, work[2])
    return value_of_reflectance(work[2], aim, lab)


@jit
def first_parts(parts, total):
    """The first composition of `total` into k parts >= 1, in lexical order."""
    k = parts.size
    for i in range(k):
        parts[i] = 1
    parts[k - 1] = total - (k - 1)


@jit
def next_parts(parts, total):
    """Move on to the next composition of `total`, in lexical order; False when there is none."""
    k = parts.size
    j = k - 2
    while j >= 0:
        rest = 0
        for i in range(j + 1, k):
            rest += parts[i]
        if rest > k - 1 - j:
            break
        j -= 1
    if j < 0:
        return False
    parts[j] += 1
    head = 0
    for i in range(j + 1):
        head += parts[i]
    for i in range(j + 1, k):
        parts[i] = 1
    parts[k - 1] = total - head - (k - 2 - j)
    return True


@jit_allocating
def best_parts(sets, most, floor, paints, film, aim, values, out):
    """For each set (m, k): the best whole parts >= 1 of total <= `most`, by full enumeration.

    Fills `values` (m,) and `out` (m, k). Only parts without a common divisor are tried, so the
    smallest total of a mixture is the one found; of equals the first by total, then by parts. A set
    that admits no whole parts with shares from `floor` keeps an infinite value.
    """
    m, k = sets.shape
    parts = np.ones(k, np.int64)
    work = np.empty((3, BANDS))
    lab = np.empty((aim.W.shape[0], 3))
    for r in range(m):
        values[r] = np.inf
        for total in range(k, most + 1):
            first_parts(parts, total)
            more = True
            while more:
                smallest = parts[0]
                for i in range(1, k):
                    smallest = min(smallest, parts[i])
                if smallest >= floor * total - 1e-9 and common_divisor(parts) == 1:
                    value = parts_value(sets[r], parts, paints, film, aim, work, lab)
                    if value < values[r] - 1e-12:
                        values[r] = value
                        for i in range(k):
                            out[r, i] = parts[i]
                more = next_parts(parts, total)


@jit_allocating
def near_parts(sets, shares, most, floor, paints, film, aim, values, out):
    """As `best_parts`, but for each total only the parts next to `shares` (m, k), up or down.

    Where there are too many parts to try them all: those that round the best shares of a set are
    nearly the best.
    """
    m, k = sets.shape
    parts = np.ones(k, np.int64)
    work = np.empty((3, BANDS))
    lab = np.empty((aim.W.shape[0], 3))
    for r in range(m):
        values[r] = np.inf
        for total in range(k, most + 1):
            least = max(1, math.ceil(floor * total - 1e-9))
            for ups in range(1 << (k - 1)):
                last = total
                fits = True
                for i in range(k - 1):
                    parts[i] = math.floor(shares[r, i] * total) + ((ups >> i) & 1)
                    last -= parts[i]
                    fits = fits and parts[i] >= least
                parts[k - 1] = last
                if fits and last >= least and common_divisor(parts) == 1:
                    value = parts_value(sets[r], parts, paints, film, aim, work, lab)
                    if value < values[r] - 1e-12:
                        values[r] = value
                        for i in range(k):
                            out[r, i] = parts[i]


@jit
def count_parts(low, high, most, few):
    """How many whole-part recipes fit shares between `low` and `high` (k,); stops past `few`."""
    k = low.size
    count = 0
    for total in range(k, most + 1):
        ways = 1
        for i in range(k - 1):
            a = max(1, math.ceil(low[i] * total - 1e-7))
            b = math.floor(high[i] * total + 1e-7)
            ways *= max(b - a + 1, 0)
            if ways == 0:
                break
        count += ways
        if count > few:
            return count
    return count


@jit
def next_within(parts, least, most):
    """Move on to the next of all but the last of `parts` (k,), each from `least` to `most` (k,).

    False when there is none.
    """
    i = parts.size - 2
    while i >= 0:
        parts[i] += 1
        if parts[i] <= most[i]:
            return True
        parts[i] = least[i]
        i -= 1
    return False


@jit
def try_parts(rows, least, rules, paints, film, aim, room, counts):
    """The least of `least` and all whole-part recipes with shares within `room.low`, `room.high`.

    Where one is better, `room.parts` and `room.shares` receive it. `counts[1]` counts those tried.
    """
    k = rows.size
    parts, a, z = room.trial, room.fewest, room.most
    for total in range(k, rules.max_parts + 1):
        empty = False
        for i in range(k):
            a[i] = max(
                1,
                math.ceil(room.low[i] * total - 1e-7),
                math.ceil(rules.min_share * total - 1e-9),
            )
            z[i] = math.floor(room.high[i] * total + 1e-7)
            empty = empty or z[i] < a[i]
            parts[i] = a[i]
        more = not empty
        while more:
            last = total
            for i in range(k - 1):
                last -= parts[i]
            if a[k - 1] <= last <= z[k - 1]:
                parts[k - 1] = last
                if common_divisor(parts) == 1:
                    counts[1] += 1
                    value = parts_value(rows, parts, paints, film, aim, room.work, room.lab)
                    if value < least:
                        least = value
                        for i in range(k):
                            room.parts[i] = parts[i]
                            room.shares[i] = parts[i] / total
            more = next_within(parts, a, z)
    return least
