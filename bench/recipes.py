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
from dataclasses import dataclass, replace
from statistics import median
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import minimize

from bench.row import Row
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_relative
from tubewise.colour.lights import weights, white_xyz
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.surface import measured_from_internal
from tubewise.pigments.models import optics
from tubewise.pigments.register import load
from tubewise.search.batch import search_many
from tubewise.search.kernels.objective import value_at
from tubewise.search.mixtures import labs_of_mixtures
from tubewise.search.prepared import prepare
from tubewise.search.problem import SearchProblem, SearchResult
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
    question: dict[str, Any] = {
        "K": K,
        "S": S,
        "weights": weights("D65"),
        "whites": white_xyz("D65"),
        "target_lab": np.asarray(target, float),
    }
    return SearchProblem(**(question | wishes))


def least(run: Callable[[], object], times: int = 5) -> float:
    """The shortest of a few runs, in seconds."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return min(taken)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mixtures:
    """Mixtures (m, 4): `rows` of `K`, `S` (60, 36), `shares`; `W` (3, 36) over the white."""

    K: Floats
    S: Floats
    rows: NDArray[np.int64]
    shares: Floats
    W: Floats

    def reflectance(self, part: slice = slice(None)) -> Floats:
        """Measured reflectance of some of the mixtures, in vectorised NumPy."""
        shares, rows = self.shares[part], self.rows[part]
        Km = np.einsum("mk,mkw->mw", shares, self.K[rows])
        Sm = np.einsum("mk,mkw->mw", shares, self.S[rows])
        return measured_from_internal(opaque_reflectance(Km, Sm))

    def labs(self) -> Floats:
        """CIELAB (m, 3) by our kernel."""
        return labs_of_mixtures(self.K, self.S, self.rows, self.shares, self.W)


def drawn_mixtures(m: int) -> Mixtures:
    """Mixtures of four of sixty paints at random."""
    K, S = box(60)
    rng = np.random.default_rng(1)
    rows, shares = rng.integers(0, 60, (m, 4)), rng.dirichlet(np.ones(4), m)
    W = np.ascontiguousarray((weights("D65") / white_xyz("D65")).T)
    return Mixtures(K=K, S=S, rows=rows, shares=shares, W=W)


def kernel(m: int = 200_000) -> Iterator[Row]:
    """Mixtures of four of sixty paints to CIELAB."""
    mixtures = drawn_mixtures(m)
    theirs = lab_from_relative(mixtures.reflectance() @ mixtures.W.T)
    apart = float(np.abs(mixtures.labs() - theirs).max())
    took = least(mixtures.labs)
    yield Row(
        f"{m} mixtures of 4 paints to CIELAB",
        took,
        least(lambda: lab_from_relative(mixtures.reflectance() @ mixtures.W.T), 3),
        "20 times",
        f"vectorised NumPy, float64, all at once; CIELAB differs by at most {apart:.0e}; ours "
        f"{took / m * 1e9:.0f} ns a mixture",
    )
    yield from _by_colour_science(mixtures, took / m)


def _by_colour_science(mixtures: Mixtures, each: float) -> Iterator[Row]:
    """The same through colour-science; `each`: our seconds for one mixture."""
    import colour
    from colour.colorimetry import msds_to_XYZ_integration

    shape = colour.SpectralShape(380, 730, 10)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    light = colour.SDS_ILLUMINANTS["D65"].copy().align(shape)
    xy = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]

    def all_at_once() -> object:
        R = mixtures.reflectance(slice(0, 20_000))
        XYZ = msds_to_XYZ_integration(R, observer, light, shape=shape)
        return colour.XYZ_to_Lab(XYZ / 100.0, xy)

    def a_spectrum_at_a_time() -> object:
        nm = shape.wavelengths
        return [
            colour.XYZ_to_Lab(
                colour.sd_to_XYZ(colour.SpectralDistribution(R, nm), observer, light) / 100.0, xy
            )
            for R in mixtures.reflectance(slice(0, 200))
        ]

    a_spectrum_at_a_time()
    yield Row(
        "the same through colour-science's spectral route",
        each * 200,
        least(a_spectrum_at_a_time, 3),
        "100 times",
        "200 mixtures: NumPy to reflectance, then SpectralDistribution, sd_to_XYZ and XYZ_to_Lab "
        "for each",
    )
    all_at_once()
    yield Row(
        "the same through colour-science, all at once",
        each * 20_000,
        least(all_at_once, 3),
        "",
        "20,000 mixtures: NumPy to reflectance, msds_to_XYZ_integration and XYZ_to_Lab, one call "
        "each; mostly the same NumPy as above",
    )


def slsqp_over_all(ask: SearchProblem, sampled: int = 60) -> float:
    """Seconds that SLSQP from the middle of every set would take, from a sample of sets."""
    ready = prepare(ask)
    paints = ready.paints
    n, k = len(paints.K), ask.max_paints
    rng = np.random.default_rng(2)
    lab, work = np.empty((1, 3)), np.empty((3, paints.K.shape[1]))
    slsqp: Any = minimize
    start = time.perf_counter()
    for _ in range(sampled):
        rows = rng.choice(n, k, replace=False)
        K, S = paints.K[rows] * paints.unit[rows, None], paints.S[rows] * paints.unit[rows, None]

        def value(x: Any, K: Any = K, S: Any = S) -> float:
            return float(value_at(K, S, np.abs(x), ready.film, ready.aim, work, lab))

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
