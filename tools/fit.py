"""Fit every pigment's few numbers to the facts known of it: `python -m tools.fit`.

Facts stand in data/optics_facts.csv, one a row, each with its source: where the pigment absorbs
(`bands`, `edges`), how it scatters, the colour of its masstone, of its tints in titanium white and
the share of paint they need. The fit starts from the bands the chemistry gives and moves them as
little as the colours ask (least squares with priors: a maximum a posteriori estimate). It is
deterministic: the same facts give the same data/models.csv.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.errors import UserError
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.surface import measured_from_internal
from tubewise.pigments.curves import BELOW, BRONZE, LEVEL, SLOPE, STEP_NM, scattering
from tubewise.pigments.models import (
    DATA,
    SIGMA_COLUMNS,
    Shape,
    Sigmas,
    format_terms,
    parse_terms,
    read_models,
)

Floats = NDArray[np.float64]

WHITE = "PW6/rutile"
PUBLISHED = "published spectrophotometry of artists' acrylics, provenance not fully documented"
FACT_KINDS = (
    "bands", "edges", "floor", "scatter", "masstone", "tint_L85", "tint_L70", "tint_L50",
    "share_L85", "share_L70", "share_L50", "tint_share10", "confidence", "note",
)  # fmt: skip

# One standard deviation of what the fit may change, by what it is (from memory of how far bands
# move between crystals, grinds and makers).
PRIOR_STRENGTH = 3.0  # log; the share fact decides
PRIOR_SHIFT_NM = 5.0  # all terms together
PRIOR_PLACE_NM = 4.0  # each term
PRIOR_WIDTH = 0.20  # log
PRIOR_HEIGHT = 0.45  # log
PRIOR_FLOOR = 0.9  # log
PRIOR_FLOOR_POWER = 0.7
PRIOR_SCATTER = 0.6  # log
PRIOR_SCATTER_POWER = 0.5
PRIOR_BELOW = 0.4  # log
PRIOR_BRONZE = 0.9  # log

# Shares of paint at which tints are first evaluated, as log odds, masstone last.
_LOGITS = np.append(np.linspace(-6.5, 6.0, 51), 14.0)


@dataclass(frozen=True, slots=True)
class Fact:
    """One row of optics_facts.csv: what is held of a pigment, how surely, and by whom."""

    ref: str
    kind: str
    value: str
    tolerance: float
    source: str

    @property
    def numbers(self) -> tuple[float, ...]:
        """The value read as numbers: L* C* h for a masstone, C* h for a tint, one for a share."""
        return tuple(float(part) for part in self.value.split())


def read_facts(path: Path = DATA / "optics_facts.csv") -> dict[str, list[Fact]]:
    """Facts by pigment ref, in file order. Raises UserError with the line of a bad row."""
    facts: dict[str, list[Fact]] = {}
    with path.open(encoding="utf-8", newline="") as file:
        for line, row in enumerate(csv.DictReader(file), start=2):
            where = f"{path.name}, line {line}"
            if row["fact"] not in FACT_KINDS:
                known = ", ".join(FACT_KINDS)
                raise UserError(f"unknown fact {row['fact']!r}; known are {known}", where=where)
            try:
                tolerance = float(row["tolerance"] or 1.0)
                fact = Fact(row["ref"], row["fact"], row["value"], tolerance, row["source"])
                if fact.kind in ("bands", "edges"):
                    parse_terms(fact.value)
                elif fact.kind not in ("confidence", "note"):
                    _ = fact.numbers
            except ValueError as error:
                raise UserError(f"not a number: {error}", where=where) from None
            facts.setdefault(fact.ref, []).append(fact)
    return facts


def start_shape(facts: Iterable[Fact]) -> Shape:
    """The shape the chemistry gives, before any colour is fitted; strength is only relative."""
    by_kind = {fact.kind: fact for fact in facts}
    bands = parse_terms(by_kind["bands"].value) if "bands" in by_kind else np.zeros((0, 3))
    edges = parse_terms(by_kind["edges"].value) if "edges" in by_kind else np.zeros((0, 3))
    return Shape(
        bands=bands,
        edges=edges,
        floor=np.array(by_kind["floor"].numbers),
        scatter=np.array(by_kind["scatter"].numbers),
    )


def unpack(shape: Shape, theta: Floats) -> Shape:
    """A shape moved by the fit's parameters, all zero meaning no change."""
    nb, ne = len(shape.bands), len(shape.edges)
    n = nb + ne
    strength, shift = theta[0] * PRIOR_STRENGTH, theta[1] * PRIOR_SHIFT_NM
    place = theta[2 : 2 + n] * PRIOR_PLACE_NM + shift
    width = np.exp(theta[2 + n : 2 + 2 * n] * PRIOR_WIDTH)
    height = np.exp(theta[2 + 2 * n : 2 + 3 * n] * PRIOR_HEIGHT + strength)
    floor_level, floor_power, level, power, below, bronze = theta[2 + 3 * n :]

    def moved(terms: Floats, part: slice) -> Floats:
        return np.column_stack(
            (terms[:, 0] + place[part], terms[:, 1] * width[part], terms[:, 2] * height[part])
        )

    scatter = shape.scatter.copy()
    scatter[LEVEL] *= np.exp(level * PRIOR_SCATTER)
    scatter[SLOPE] += power * PRIOR_SCATTER_POWER
    scatter[STEP_NM] += shift
    if shape.scatter[BELOW] < 1.0:
        scatter[BELOW] = min(0.98, shape.scatter[BELOW] * np.exp(below * PRIOR_BELOW))
    scatter[BRONZE] *= np.exp(bronze * PRIOR_BRONZE)
    return Shape(
        bands=moved(shape.bands, slice(0, nb)),
        edges=moved(shape.edges, slice(nb, n)),
        floor=np.array(
            (
                shape.floor[0] * np.exp(floor_level * PRIOR_FLOOR + strength),
                shape.floor[1] + floor_power * PRIOR_FLOOR_POWER,
            )
        ),
        scatter=scatter,
    )


def colours(K: Floats, S: Floats) -> Floats:
    """CIELAB (D65, 2 degrees) of opaque films, as measured."""
    return np.asarray(lab_from_reflectance(measured_from_internal(opaque_reflectance(K, S))))


def tints_at_lightness(
    K: Floats, S: Floats, K_white: Floats, S_white: Floats, targets: Sequence[float]
) -> tuple[Floats, Floats, Floats]:
    """Tints in white of given L*: (CIELAB (n, 3), shares (n,), masstone CIELAB (3,)).

    Where a paint can't reach an L* the nearest it can is returned.
    """

    def lab(logit: Floats) -> Floats:
        c = 1.0 / (1.0 + np.exp(-logit[:, None]))
        return colours(c * K + (1.0 - c) * K_white, c * S + (1.0 - c) * S_white)

    ladder = lab(_LOGITS)
    goal = np.asarray(targets, dtype=np.float64)
    if goal.size == 0:
        return np.zeros((0, 3)), np.zeros(0), ladder[-1]
    L = np.minimum.accumulate(ladder[:, 0]) - 1e-9 * np.arange(len(_LOGITS))
    logit = np.interp(-goal, -L, _LOGITS)
    found = lab(logit)
    # One secant step from the interpolated share.
    slope = np.interp(logit, _LOGITS, np.gradient(L, _LOGITS))
    step = np.where(np.abs(slope) > 1e-3, (goal - found[:, 0]) / np.minimum(slope, -1e-3), 0.0)
    logit = np.clip(logit + np.clip(step, -0.3, 0.3), _LOGITS[0], _LOGITS[-1])
    return lab(logit), 1.0 / (1.0 + np.exp(-logit)), ladder[-1]


def colour_residual(lab: Floats, L: float, C: float, h: float) -> Floats:
    """Lightness, chroma and hue differences on CIEDE94's scale (chroma tolerance grows with C)."""
    a, b = lab[1], lab[2]
    rad = np.deg2rad(h)
    d_chroma = a * np.cos(rad) + b * np.sin(rad) - C
    d_hue = -a * np.sin(rad) + b * np.cos(rad)
    return np.array((lab[0] - L, d_chroma / (1.0 + 0.045 * C), d_hue / (1.0 + 0.015 * C)))


_AIM = {"L85": 85.0, "L70": 70.0, "L50": 50.0}


def fact_residuals(
    facts: Sequence[Fact], K: Floats, S: Floats, K_white: Floats, S_white: Floats
) -> Floats:
    """Every colour and share fact against curves K, S (36,), in units of its tolerance."""
    aims = sorted({kind.split("_")[1] for f in facts if (kind := f.kind)[-3:] in _AIM})
    tints, shares, masstone = tints_at_lightness(
        K, S, K_white, S_white, [_AIM[aim] for aim in aims]
    )
    out: list[Floats] = []
    for fact in facts:
        v = fact.numbers if fact.kind not in ("bands", "edges", "confidence", "note") else ()
        if fact.kind == "masstone":
            r = colour_residual(masstone, *v)
        elif fact.kind == "tint_share10":
            lab = colours(0.1 * K + 0.9 * K_white, 0.1 * S + 0.9 * S_white)
            r = colour_residual(lab, *v)
        elif fact.kind.startswith("tint_"):
            aim = fact.kind.split("_")[1]
            r = colour_residual(tints[aims.index(aim)], _AIM[aim], *v)
        elif fact.kind.startswith("share_"):
            # A factor of 1.1 weighs as much as one unit of colour.
            share = shares[aims.index(fact.kind.split("_")[1])]
            r = np.array((np.log(share / v[0]) / np.log(1.1),))
        else:
            continue
        out.append(r / fact.tolerance)
    return np.concatenate(out) if out else np.zeros(0)


def fit_pigment(facts: Sequence[Fact], K_white: Floats, S_white: Floats) -> Shape:
    """The shape that agrees best with a pigment's facts and strays least from its chemistry."""
    shape = start_shape(facts)
    colour_facts = [f for f in facts if f.kind.startswith(("masstone", "tint_", "share_"))]
    n = 2 + 3 * (len(shape.bands) + len(shape.edges)) + 6

    def residuals(theta: Floats) -> Floats:
        K, S = unpack(shape, theta).curves(WAVELENGTHS_NM)
        return np.concatenate((fact_residuals(colour_facts, K, S, K_white, S_white), theta))

    best = least_squares(residuals, np.zeros(n), method="trf", x_scale=1.0, max_nfev=60)
    return unpack(shape, best.x)


def fit_white(facts: Sequence[Fact]) -> Shape:
    """Titanium white, the unit of everything: S = 1 at 560 nm by definition, K as given."""
    shape = start_shape(facts)
    S = scattering(np.array([560.0]), shape.scatter, np.zeros(1))[0]
    scatter = shape.scatter.copy()
    scatter[LEVEL] /= S
    return replace(shape, scatter=scatter)


def read_sigmas(path: Path = DATA / "optics_sigmas.csv") -> dict[str, Sigmas]:
    """How far real paints stray from a model, by its confidence; the file says how it was set."""
    with path.open(encoding="utf-8", newline="") as file:
        return {
            row["confidence"]: Sigmas(*(float(row[name]) for name in SIGMA_COLUMNS))
            for row in csv.DictReader(file)
        }


COLUMNS = (
    "ref", "bands", "edges", "floor", "scatter", "sigmas", "confidence", "note", "source",
)  # fmt: skip


def confidence_of(facts: Sequence[Fact]) -> str:
    """What the facts deserve: published readings high, recalled ones medium, or as stated."""
    stated = [fact.value for fact in facts if fact.kind == "confidence"]
    if stated:
        return stated[-1]
    return "high" if any(fact.source == PUBLISHED for fact in facts) else "medium"


def model_row(
    ref: str, facts: Sequence[Fact], shape: Shape, sigmas: Mapping[str, Sigmas]
) -> dict[str, str]:
    """One row of models.csv."""
    confidence = confidence_of(facts)
    sources = dict.fromkeys(fact.source for fact in facts if fact.kind != "note")
    return {
        "ref": ref,
        "bands": format_terms(shape.bands),
        "edges": format_terms(shape.edges),
        "floor": " ".join(f"{v:.4g}" for v in shape.floor),
        "scatter": " ".join(f"{v:.4g}" for v in shape.scatter),
        "sigmas": " ".join(f"{getattr(sigmas[confidence], name):g}" for name in SIGMA_COLUMNS),
        "confidence": confidence,
        "note": "; ".join(fact.value for fact in facts if fact.kind == "note"),
        "source": "fitted to optics_facts.csv: " + "; ".join(sources),
    }


def fit_all(
    facts: Mapping[str, Sequence[Fact]], refs: Iterable[str] | None = None
) -> dict[str, dict[str, str]]:
    """Rows of models.csv for `refs`, by default every pigment that has facts."""
    white = fit_white(facts[WHITE])
    K_white, S_white = white.curves()
    sigmas = read_sigmas()
    return {
        ref: model_row(
            ref,
            facts[ref],
            white if ref == WHITE else fit_pigment(facts[ref], K_white, S_white),
            sigmas,
        )
        for ref in (facts if refs is None else refs)
    }


def write_models(rows: Mapping[str, Mapping[str, str]], path: Path) -> None:
    """Write models.csv anew."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows.values())


def main(argv: Sequence[str] | None = None) -> int:
    """Fit all pigments, or those named, and write data/models.csv."""
    parser = argparse.ArgumentParser(prog="python -m tools.fit", description=__doc__)
    parser.add_argument("refs", nargs="*", help="pigments to fit again; all when none is named")
    parser.add_argument("--facts", type=Path, default=DATA / "optics_facts.csv")
    parser.add_argument("--models", type=Path, default=DATA / "models.csv")
    args = parser.parse_args(argv)
    try:
        facts = read_facts(args.facts)
        unknown = [ref for ref in args.refs if ref not in facts]
        if unknown:
            raise UserError(f"no facts about {', '.join(unknown)}", where=args.facts.name)
        rows = read_models(args.models) if args.refs else {}
        rows.update(fit_all(facts, args.refs or None))
    except UserError as error:
        print(error, file=sys.stderr)
        return 2
    write_models(rows, args.models)
    n = len(args.refs) or len(rows)
    print(f"{n} pigment{'s' if n != 1 else ''} fitted, written to {args.models.name}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
