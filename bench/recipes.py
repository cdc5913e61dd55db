"""The recipe search: kernels against NumPy and colour-science, the proof against SciPy's SLSQP.

`python -m bench.recipes [PART ...]` runs only the parts named: kernel, sixty, threehundred,
thousand, batch, found, fresh. Boxes are drawn from the built-in optical models with invented loads
and batches, two whites first; targets are CIELAB under D65. All times are of warm, compiled code
but `fresh`. SLSQP is timed on a random sample of sets of paints and scaled up to all of them.
"""

from __future__ import annotations

import math
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from statistics import median
from typing import Any

import numpy as np
from numpy.typing import ArrayLike
from scipy.optimize import minimize

from bench.row import Row
from tubewise.colour.arrays import Floats
from tubewise.colour.lights import weights, white_xyz
from tubewise.pigments.models import optics
from tubewise.pigments.register import load
from tubewise.search.batch import search_many
from tubewise.search.kernels import mixture_value
from tubewise.search.mixtures import labs_of_mixtures
from tubewise.search.problem import SearchProblem, SearchResult, prepare
from tubewise.search.recipes import search

IN_REACH = ([50.0, 20.0, 10.0], [70.0, 5.0, 30.0], [40.0, -15.0, -10.0], [60.0, 10.0, -5.0])
OUT_OF_REACH = ([80.0, -30.0, 90.0], [60.0, -50.0, -10.0], [50.0, 75.0, 30.0], [40.0, 30.0, -60.0])


def box(n: int, seed: int = 0) -> tuple[Floats, Floats]:
    """K, S (n, 36) of n invented tubes: two whites, then pigments of the register at random."""
    rng = np.random.default_rng(seed)
    models = []
    for pigment in load():
        try:
            models.append(optics(pigment.code))
        except (KeyError, ValueError):
            continue
    white = optics("PW6")
    picks = rng.choice(len(models), n, replace=n > len(models))
    amount = rng.uniform(0.5, 1.0, (n, 1)) * np.exp(rng.normal(0.0, 0.08, (n, 1)))
    K = np.stack([models[i].K for i in picks]) * amount
    S = np.stack([models[i].S for i in picks]) * amount + 0.01
    K[:2], S[:2] = white.K, white.S
    return K, S


def problem(n: int, target: ArrayLike, *, seed: int = 0, **wishes: Any) -> SearchProblem:
    """A search for `target` in a box of n."""
    K, S = box(n, seed)
    asked: dict[str, Any] = {
        "K": K,
        "S": S,
        "weights": weights("D65"),
        "whites": white_xyz("D65"),
        "target_lab": np.asarray(target, float),
    }
    return SearchProblem(**(asked | wishes))


def least(run: Callable[[], object], times: int = 5) -> float:
    """The shortest of a few runs, in seconds."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return min(taken)


def kernel() -> Iterator[Row]:
    """Mixtures of four of sixty paints to CIELAB."""
    m = 200_000
    K, S = box(60)
    rng = np.random.default_rng(1)
    rows, shares = rng.integers(0, 60, (m, 4)), rng.dirichlet(np.ones(4), m)
    w, white = weights("D65"), white_xyz("D65")
    W = np.ascontiguousarray((w / white).T)

    def with_numpy(part: slice = slice(None)) -> Floats:
        Km = np.einsum("mk,mkw->mw", shares[part], K[rows[part]])
        Sm = np.einsum("mk,mkw->mw", shares[part], S[rows[part]])
        q = Km / Sm
        R = 1.0 + q - np.sqrt(q * q + 2.0 * q)
        return np.asarray(0.03 + 0.97 * 0.35 * R / (1.0 - 0.65 * R))

    def to_lab(R: Floats) -> Floats:
        x = R @ W.T
        f = np.where(x > 216 / 24389, np.cbrt(x), (24389 / 27 * x + 16) / 116)
        return np.stack(
            [116 * f[:, 1] - 16, 500 * (f[:, 0] - f[:, 1]), 200 * (f[:, 1] - f[:, 2])], axis=1
        )

    ours = labs_of_mixtures(K, S, rows, shares, W)
    apart = float(np.abs(ours - to_lab(with_numpy())).max())
    took = least(lambda: labs_of_mixtures(K, S, rows, shares, W))
    yield Row(
        f"{m} mixtures of 4 paints to CIELAB",
        took,
        least(lambda: to_lab(with_numpy()), 3),
        "20 times",
        f"vectorised NumPy, float64, all at once; CIELAB differs by at most {apart:.0e}; ours "
        f"{took / m * 1e9:.0f} ns a mixture",
    )
    import colour
    from colour.colorimetry import msds_to_XYZ_integration

    part = slice(0, 20_000)
    shape = colour.SpectralShape(380, 730, 10)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    light = colour.SDS_ILLUMINANTS["D65"].copy().align(shape)
    xy = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]

    def with_colour_science() -> object:
        XYZ = msds_to_XYZ_integration(with_numpy(part), observer, light, shape=shape)
        return colour.XYZ_to_Lab(XYZ / 100.0, xy)

    def a_spectrum_at_a_time() -> object:
        spectra = with_numpy(slice(0, 200))
        nm = shape.wavelengths
        return [
            colour.XYZ_to_Lab(
                colour.sd_to_XYZ(colour.SpectralDistribution(R, nm), observer, light) / 100.0, xy
            )
            for R in spectra
        ]

    a_spectrum_at_a_time()
    yield Row(
        "the same through colour-science's spectral route",
        took * 200 / m,
        least(a_spectrum_at_a_time, 3),
        "100 times",
        "200 mixtures: NumPy to reflectance, then SpectralDistribution, sd_to_XYZ and XYZ_to_Lab "
        "for each",
    )
    with_colour_science()
    yield Row(
        "the same through colour-science, all at once",
        took * 20_000 / m,
        least(with_colour_science, 3),
        "",
        "20,000 mixtures: NumPy to reflectance, msds_to_XYZ_integration and XYZ_to_Lab, one call "
        "each; mostly the same NumPy as above",
    )


def slsqp_over_all(ask: SearchProblem, sampled: int = 60) -> float:
    """Seconds that SLSQP from the middle of every set would take, from a sample of sets."""
    ready = prepare(ask)
    n, k = len(ready.K), ask.max_paints
    rng = np.random.default_rng(2)
    work, lab = np.empty((3, 36)), np.empty((1, 3))
    slsqp: Any = minimize
    start = time.perf_counter()
    for _ in range(sampled):
        rows = rng.choice(n, k, replace=False)
        unit = ready.unit[rows]

        def value(x: Any, rows: Any = rows, unit: Any = unit) -> float:
            amount = np.abs(x) * unit
            return float(
                mixture_value(ready.K, ready.S, rows, amount / amount.sum(), *ready.args, work, lab)
            )

        slsqp(
            value,
            np.full(k, 1.0 / k),
            method="SLSQP",
            bounds=[(0.0, 1.0)] * k,
            constraints=[{"type": "eq", "fun": lambda x: float(np.sum(x)) - 1.0}],
        )
    return (time.perf_counter() - start) / sampled * math.comb(n, k)


def _solve(ask: SearchProblem, targets: tuple[list[float], ...]) -> list[SearchResult]:
    return [search(replace(ask, target_lab=target)) for target in targets]


def _proof_rows(n: int, k: int, reach: str, reference: bool) -> Iterator[Row]:
    ask = problem(n, IN_REACH[0], max_paints=k, seconds=60.0)
    search(replace(problem(12, OUT_OF_REACH[0]), max_paints=k, seconds=600.0))
    for words, targets in (("in reach", IN_REACH), ("out of reach", OUT_OF_REACH)):
        results = _solve(ask, targets)
        times = [r.seconds for r in results]
        proved = sum(r.proved_best for r in results)
        yield Row(
            f"best of at most {k} from {n} tubes, {words}",
            median(times),
            slsqp_over_all(replace(ask, target_lab=targets[0])) if reference else None,
            reach,
            f"median of {len(times)} targets, slowest {max(times):.2f} s; proved {proved} of "
            f"{len(times)}; distance {min(r.best.value for r in results):.2g} to "
            f"{max(r.best.value for r in results):.2g}"
            + ("; SLSQP over every set: 60 timed and scaled" if reference else ""),
        )


def sixty() -> Iterator[Row]:
    """At most 4 of 60."""
    yield from _proof_rows(60, 4, "1000 times, under 1 s, proved", True)


def threehundred() -> Iterator[Row]:
    """At most 3 of 300."""
    yield from _proof_rows(300, 3, "under 1 s, proved", False)


def thousand() -> Iterator[Row]:
    """At most 4 of 1,000: the first answer and its gap."""
    ask = problem(1000, IN_REACH[0], max_paints=4, prove=False)
    search(ask)
    results = _solve(ask, IN_REACH + OUT_OF_REACH)
    yield Row(
        "at most 4 from 1000 tubes, with a stated gap",
        median([r.seconds for r in results]),
        None,
        "under 2 s",
        f"median of {len(results)} targets, slowest {max(r.seconds for r in results):.2f} s; gap "
        f"{min(r.gap for r in results):.2g} to {max(r.gap for r in results):.2g}",
    )


def found(cases: int = 200) -> Iterator[Row]:
    """How often the unproved search has the optimum, where the proof is affordable."""
    rng = np.random.default_rng(3)
    right = proved = 0
    quick = full = 0.0
    for case in range(cases):
        target = [rng.uniform(20, 85), *rng.normal(0, 30, 2)]
        ask = problem(int(rng.integers(12, 25)), target, seed=case, max_paints=4)
        first, best = search(replace(ask, prove=False)), search(replace(ask, seconds=10.0))
        quick, full = quick + first.seconds, full + best.seconds
        proved += best.proved_best
        right += first.best.value <= best.best.value + 0.01
    yield Row(
        f"the unproved search's answer is the optimum: {right} of {cases}",
        quick / cases,
        full / cases,
        "99 %",
        f"boxes of 12 to 24, at most 4 paints; the reference is the exhaustive proof, complete in "
        f"{proved} of them",
    )


def batch() -> Iterator[Row]:
    """A thousand targets at once."""
    rng = np.random.default_rng(4)
    targets = [[rng.uniform(20, 85), *rng.normal(0, 25, 2)] for _ in range(1000)]
    ask = problem(24, targets[0], max_paints=3, prove=False, alternatives=2, beam=12)
    list(search_many(ask, targets[:8]))
    start = time.perf_counter()
    list(search_many(ask, targets))
    took = time.perf_counter() - start
    yield Row(
        "1000 targets against 24 tubes, at most 3 paints",
        took,
        None,
        "under 10 s",
        f"{1000 / took:.0f} targets a second, not proved",
    )


FRESH = """
import time
start = time.perf_counter()
from bench.recipes import problem, OUT_OF_REACH
from tubewise.search.recipes import search
result = search(problem(24, OUT_OF_REACH[0], max_paints=3))
print(result.proved_best, time.perf_counter() - start)
"""


def fresh() -> Iterator[Row]:
    """The first answer of a new process, compiled code loaded from the cache."""
    command = [sys.executable, "-c", FRESH]
    subprocess.run(command, check=True, capture_output=True)
    took = least(lambda: subprocess.run(command, check=True, capture_output=True), 3)
    yield Row(
        "first answer in a fresh process",
        took,
        None,
        "under 2.5 s",
        "24 tubes, at most 3 paints, proved; start of the interpreter, imports and cache included",
    )


PARTS = {
    part.__name__: part for part in (kernel, sixty, threehundred, thousand, batch, found, fresh)
}


def rows(*parts: str) -> Iterator[Row]:
    """All rows, or those of the parts named."""
    for part in parts or tuple(PARTS):
        yield from PARTS[part]()


if __name__ == "__main__":
    for row in rows(*sys.argv[1:]):
        print(" | ".join(row.cells), flush=True)
