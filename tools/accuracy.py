"""How near the models come to published readings: `python -m tools.accuracy`.

Two tables: the fitted models against the published rows they were fitted to, and, more telling,
models fitted without any published row against them (leave out the whole table, since a row
also teaches its neighbours through the priors).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tools.fit import (
    PUBLISHED,
    WHITE,
    Fact,
    colours,
    fit_pigment,
    fit_white,
    read_facts,
    read_sigmas,
    tints_at_lightness,
)
from tubewise.colour.difference import delta_e_2000
from tubewise.pigments.models import draw

Floats = NDArray[np.float64]
AIMS = {"L85": 85.0, "L70": 70.0, "L50": 50.0}


@dataclass(frozen=True, slots=True)
class Miss:
    """One pigment against its published row; tints by their aim, "L85", "L70" or "L50".

    `masstone` is CIEDE2000, `hue` in degrees, `chroma` in C*ab, `share` a factor above or below 1.
    """

    ref: str
    masstone: float
    hue: Mapping[str, float]
    chroma: Mapping[str, float]
    share: Mapping[str, float]


def lab_of(L: float, C: float, h: float) -> Floats:
    """CIELAB from lightness, chroma and hue in degrees."""
    rad = np.deg2rad(h)
    return np.array((L, C * np.cos(rad), C * np.sin(rad)))


def miss(
    ref: str, published: Sequence[Fact], K: Floats, S: Floats, white: Sequence[Floats]
) -> Miss:
    """How far curves K and S (36,) are from published facts of a pigment."""
    tints, shares, masstone = tints_at_lightness(K, S, white[0], white[1], list(AIMS.values()))
    hue: dict[str, float] = {}
    chroma: dict[str, float] = {}
    share: dict[str, float] = {}
    difference = float("nan")
    for fact in published:
        kind, _, aim = fact.kind.partition("_")
        v = fact.numbers
        i = list(AIMS).index(aim) if aim in AIMS else 0
        if kind == "masstone":
            difference = float(delta_e_2000(masstone, lab_of(*v)))
        elif kind == "tint":
            ours = float(np.degrees(np.arctan2(tints[i, 2], tints[i, 1])))
            hue[aim] = (ours - v[1] + 180.0) % 360.0 - 180.0
            chroma[aim] = float(np.hypot(tints[i, 1], tints[i, 2])) - v[0]
        elif kind == "share":
            share[aim] = float(shares[i] / v[0])
    return Miss(ref, difference, hue, chroma, share)


def split(facts: Sequence[Fact]) -> tuple[list[Fact], list[Fact]]:
    """Facts that are published readings, and the others."""
    published = [fact for fact in facts if fact.source == PUBLISHED]
    return published, [fact for fact in facts if fact.source != PUBLISHED]


def misses(facts: Mapping[str, Sequence[Fact]], *, held_out: bool) -> Iterator[Miss]:
    """Each pigment with published readings, fitted with them or, `held_out`, without them."""
    white = fit_white(facts[WHITE]).curves()
    for ref, all_facts in facts.items():
        published, rest = split(all_facts)
        if published:
            shape = fit_pigment(rest if held_out else all_facts, *white)
            yield miss(ref, published, *shape.curves(), white)


@dataclass(frozen=True, slots=True)
class Held:
    """A prediction against its truth: `miss` and the 95 % radius foretold, both CIEDE2000."""

    what: str
    miss: float
    foretold: float


def radius_95(K: Floats, S: Floats, K_mean: Floats, S_mean: Floats) -> float:
    """The CIEDE2000 about a prediction that holds 95 of 100 sampled paints; K, S (n, 36)."""
    return float(np.percentile(delta_e_2000(colours(K, S), colours(K_mean, S_mean)), 95.0))


def interval_checks(
    facts: Mapping[str, Sequence[Fact]], *, mixtures: int = 60, draws: int = 300, seed: int = 2026
) -> Iterator[Held]:
    """Held-out models against the published pigments: masstones, tints, and random mixtures.

    The truth is a fit to the published rows alone; the prediction one to the other facts alone,
    with the sigmas of medium confidence. Mixtures take two to four of the pigments and white.
    """
    rng = np.random.default_rng(seed)
    sigmas = read_sigmas()
    white_shape = fit_white(facts[WHITE])
    white = white_shape.curves()
    truth, mean, sampled = [white], [white], [draw(white_shape, sigmas["high"], draws, rng)]
    names = [WHITE]
    for ref, all_facts in facts.items():
        published, rest = split(all_facts)
        if not published:
            continue
        start = [fact for fact in rest if fact.kind in ("bands", "edges", "floor", "scatter")]
        truth.append(fit_pigment([*start, *published], *white).curves())
        held_out = fit_pigment(rest, *white)
        mean.append(held_out.curves())
        sampled.append(draw(held_out, sigmas["medium"], draws, rng))
        names.append(ref)

    def held(what: str, share: Floats) -> Held:
        K, S = (
            np.tensordot(share, np.stack([pair[i] for pair in sampled]), axes=1) for i in (0, 1)
        )
        means = [share @ np.stack([pair[i] for pair in mean]) for i in (0, 1)]
        truths = [share @ np.stack([pair[i] for pair in truth]) for i in (0, 1)]
        difference = float(delta_e_2000(colours(*means), colours(*truths)))
        return Held(what, difference, radius_95(K, S, means[0], means[1]))

    for i, name in enumerate(names[1:], start=1):
        yield held(f"{name} alone", np.eye(len(names))[i])
        for part in (0.05, 0.2, 0.5):
            share = np.zeros(len(names))
            share[0], share[i] = 1.0 - part, part
            yield held(f"{name} {part:.0%} in white", share)
    for _ in range(mixtures):
        chosen = rng.choice(len(names), size=int(rng.integers(2, 5)), replace=False)
        share = np.zeros(len(names))
        share[chosen] = rng.dirichlet(np.ones(len(chosen)))
        yield held("mixture of " + ", ".join(names[k] for k in chosen), share)


def table(rows: Sequence[Miss]) -> str:
    """Misses as a Markdown table with medians."""
    head = (
        "| pigment | masstone dE00 | hue L85 | hue L70 | hue L50 "
        "| chroma L85 | chroma L70 | chroma L50 | share |\n" + "| --- " + "| ---: " * 8 + "|\n"
    )

    def cell(values: Mapping[str, float], aim: str) -> str:
        return f"{values[aim]:+.1f}" if aim in values else ""

    body = "".join(
        f"| {row.ref} | {row.masstone:.1f} | "
        + " | ".join(cell(v, aim) for v in (row.hue, row.chroma) for aim in AIMS)
        + " | "
        + ", ".join(f"{factor:.2f}" for factor in row.share.values())
        + " |\n"
        for row in rows
    )

    def middle(values: list[float]) -> str:
        return f"{np.median(np.abs(values)):.1f}"

    factors = [np.exp(abs(np.log(f))) for row in rows for f in row.share.values()]
    medians = [
        middle([v[aim] for v in column if aim in v])
        for column in ([row.hue for row in rows], [row.chroma for row in rows])
        for aim in AIMS
    ]
    last = (
        f"| median | {middle([row.masstone for row in rows])} | "
        + " | ".join(medians)
        + f" | factor {np.median(factors):.2f} |\n"
    )
    return head + body + last


def main() -> None:
    """Print both tables."""
    facts = read_facts()
    print("Fitted to the published rows:\n")
    print(table(list(misses(facts, held_out=False))))
    print("Fitted without them:\n")
    print(table(list(misses(facts, held_out=True))))
    checks = list(interval_checks(facts))
    for label, part in (
        ("alone and in white", [c for c in checks if not c.what.startswith("mixture")]),
        ("mixtures", [c for c in checks if c.what.startswith("mixture")]),
    ):
        inside = sum(c.miss <= c.foretold for c in part)
        print(
            f"Held out, {label}: CIEDE2000 median {np.median([c.miss for c in part]):.1f}, worst "
            f"{max(c.miss for c in part):.1f}; foretold 95 % radius, median "
            f"{np.median([c.foretold for c in part]):.1f}, holds {inside} of {len(part)}"
        )


if __name__ == "__main__":
    main()
