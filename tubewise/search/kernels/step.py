"""One damped Gauss-Newton step on the simplex: amounts that are not negative and sum to 1."""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from tubewise.search.jit import jit


@jit
def solve(A, y, n):
    """Gaussian elimination with pivoting, in place; the answer is left in `y`."""
    for c in range(n):
        p = c
        for r in range(c + 1, n):
            if abs(A[r, c]) > abs(A[p, c]):
                p = r
        if abs(A[p, c]) < 1e-300:
            A[p, c] = 1e-300
        if p != c:
            for j in range(n):
                A[c, j], A[p, j] = A[p, j], A[c, j]
            y[c], y[p] = y[p], y[c]
        for r in range(c + 1, n):
            m = A[r, c] / A[c, c]
            if m != 0.0:
                for j in range(c, n):
                    A[r, j] -= m * A[c, j]
                y[r] -= m * y[c]
    for c in range(n - 1, -1, -1):
        for j in range(c + 1, n):
            y[c] -= A[c, j] * y[j]
        y[c] /= A[c, c]


@jit
def _equations(H, g, b, mu, fixed, A, y):
    """The damped model's equations among the free amounts, and that all sum to 1; how many."""
    k = b.size
    n = 0
    kept = 0.0
    for i in range(k):
        if fixed[i]:
            kept += b[i]
        else:
            n += 1
    r = 0
    for i in range(k):
        if fixed[i]:
            continue
        c = 0
        y[r] = -g[i]
        for j in range(k):
            if fixed[j]:
                y[r] += H[i, j] * b[j]
            else:
                A[r, c] = H[i, j]
                c += 1
        A[r, r] += mu * (H[i, i] + 1e-9)
        A[r, n] = 1.0
        A[n, r] = 1.0
        r += 1
    A[n, n] = 0.0
    y[n] = kept
    return n + 1


@jit
def step(H, g, b, mu, fixed, A, y, d):
    """The step `d` (k,) from amounts `b` (k,) to the least of the model, damped by `mu`.

    `H` (k, k), `g` (k,): the model's matrix and slope. Amounts that would go below zero are held
    at zero. `fixed` (k,), `A` (k + 1, k + 1) and `y` (k + 1,) are overwritten.
    """
    k = b.size
    low = g[0]
    mean = 0.0
    for i in range(k):
        low = min(low, g[i])
        mean += b[i] * g[i]
    free = k
    for i in range(k):
        fixed[i] = b[i] <= 1e-14 and g[i] >= mean and g[i] > low
        free -= fixed[i]
    while free > 1:
        solve(A, y, _equations(H, g, b, mu, fixed, A, y))
        r = 0
        worst = -1
        worst_by = 1e-15
        for i in range(k):
            d[i] = -b[i]
            if not fixed[i]:
                d[i] = y[r]
                r += 1
                if -(b[i] + d[i]) > worst_by:
                    worst_by = -(b[i] + d[i])
                    worst = i
        if worst < 0:
            return
        fixed[worst] = True
        free -= 1
    # One paint alone is left.
    for i in range(k):
        d[i] = -b[i] if fixed[i] else 1.0 - b[i]
