"""All pigments: what is measured, what is fitted, and what determined each."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from tools.fit.acrylics import white
from tools.fit.colours import White
from tools.fit.facts import Fact, last
from tools.fit.families import Family, Seen, read_families, with_own_level
from tools.fit.measured import Curve, curves
from tools.fit.pigment import fit_curves, fit_pigment
from tools.fit.posterior import WIDEN, makers, read_root, unknown
from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.pigments.models import (
    CURVE_COLUMNS,
    MODEL_COLUMNS,
    SPREAD_COLUMNS,
    Shape,
    format_terms,
)
from tubewise.pigments.spread import LEVEL, pack

Facts = Mapping[str, Sequence[Fact]]

# Facts beside which a scattering level counts as found rather than borrowed.
_FOUND = 0.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """One pigment as fitted: its shape (None where curves were measured), K and S (36,).

    `root` (15, 15) is that of what is unknown; words say what determined the pigment.
    """

    ref: str
    shape: Shape | None
    K: Floats
    S: Floats
    root: Floats
    confidence: str
    determined: str
    curve: Curve | None = None


def told_by_measured(facts: Facts, measured: Mapping[str, Curve], paper: White) -> dict[str, Seen]:
    """What every measured pigment tells its family, by ref, one for each paint read.

    Whites are left out: each has a level of its own.
    """
    families = read_families()
    paints = {found.samples: ref for ref, found in reversed(list(measured.items()))}
    seen_of: dict[str, Seen] = {}
    for ref in sorted(paints.values()):
        if last(facts[ref], "level") is None:
            curve = measured[ref]
            shape, habits = fit_curves(facts[ref], families.of(ref), curve.K, curve.S, paper)
            seen_of[ref] = Seen(scatter=shape.scatter, habits=habits)
    return seen_of


def fit_one(ref: str, facts: Sequence[Fact], family: Family, paper: White) -> Fitted:
    """One pigment from its facts and its family."""
    shape = fit_pigment(facts, family, paper)
    K, S = shape.curves()
    confidence = confidence_of(facts)
    own = with_own_level(family, facts)
    root = unknown(facts, own, K, S, paper, WIDEN[confidence])
    left = float(np.linalg.norm(root[LEVEL])) / WIDEN[confidence] / own.spread[0]
    kinds = ", ".join(dict.fromkeys(fact.kind for fact in facts if fact.is_colour)) or "no colour"
    if own is not family:
        scattering = "its own level"
    elif left < _FOUND:
        scattering = "its colours"
    else:
        scattering = f"its family, {family.name}"
        if family.measured:
            scattering += f" ({', '.join(family.measured)} measured)"
    determined = f"absorption: bands and {kinds}; scattering: {scattering}"
    return Fitted(
        ref=ref, shape=shape, K=K, S=S, root=root, confidence=confidence, determined=determined
    )


def measured_one(found: Curve) -> Fitted:
    """One pigment from its published measurement."""
    determined = f"absorption and scattering: measured, {found.source} {' '.join(found.samples)}"
    if found.note:
        determined += f"; {found.note}"
    confidence = "medium" if found.warnings[1:] else "high"
    return Fitted(
        ref=found.ref,
        shape=None,
        K=found.K,
        S=found.S,
        root=read_root(found.ref),
        confidence=confidence,
        determined=determined,
        curve=found,
    )


def confidence_of(facts: Sequence[Fact]) -> str:
    """What recalled facts deserve: medium, or as stated."""
    stated = last(facts, "confidence")
    return stated.value if stated else "medium"


def fit_all(facts: Facts, refs: Iterable[str] | None = None) -> dict[str, Fitted]:
    """Every pigment that has facts, or those of `refs`, by ref in the order of the facts."""
    paper = white()
    measured = curves()
    families = read_families().learnt(told_by_measured(facts, measured, paper))
    return {
        ref: measured_one(measured[ref])
        if ref in measured
        else fit_one(ref, facts[ref], families.of(ref), paper)
        for ref in (facts if refs is None else refs)
    }


def model_row(fitted: Fitted, facts: Sequence[Fact]) -> dict[str, str]:
    """One row of models.csv."""
    shape = fitted.shape
    sources = dict.fromkeys(fact.source for fact in facts if fact.kind != "note")
    notes = [fact.value for fact in facts if fact.kind == "note"]
    return {
        "ref": fitted.ref,
        "basis": "measured (published)" if fitted.curve else "modelled",
        "bands": format_terms(shape.bands) if shape else "",
        "edges": format_terms(shape.edges) if shape else "",
        "floor": " ".join(f"{v:.4g}" for v in shape.floor) if shape else "",
        "scatter": " ".join(f"{v:.4g}" for v in shape.scatter) if shape else "",
        "confidence": fitted.confidence,
        "determined": fitted.determined,
        "note": "; ".join(notes),
        "source": f"measured/sources.csv: {fitted.curve.source}"
        if fitted.curve
        else "fitted to optics_facts.csv: " + "; ".join(sources),
    }


def curve_rows(fitted: Fitted) -> Iterable[dict[str, str]]:
    """The two rows of measured_curves.csv, K and S, of a measured pigment."""
    for quantity, values in (("K", fitted.K), ("S", fitted.S)):
        cells = {f"{nm:.0f}": f"{v:.5g}" for nm, v in zip(WAVELENGTHS_NM, values, strict=True)}
        yield {"ref": fitted.ref, "quantity": quantity, **cells}


def spread_row(fitted: Fitted, facts: Sequence[Fact]) -> dict[str, str]:
    """One row of spreads.csv."""
    kin = last(facts, "kin")
    return {
        "ref": fitted.ref,
        "family": read_families().of(fitted.ref).name,
        "kin": kin.value if kin else fitted.ref,
        "makers": " ".join(f"{v:g}" for v in makers(fitted.ref)),
        "unknown": pack(fitted.root),
    }


Table = dict[tuple[str, str], Mapping[str, str]]
FILES = {
    "models.csv": MODEL_COLUMNS,
    "measured_curves.csv": CURVE_COLUMNS,
    "spreads.csv": SPREAD_COLUMNS,
}


def tables(found: Mapping[str, Fitted], facts: Facts) -> dict[str, Table]:
    """The rows of every file of `FILES`, by ref and quantity ("" where there is but one row)."""
    curves_of = (row for fitted in found.values() if fitted.curve for row in curve_rows(fitted))
    return {
        "models.csv": {(ref, ""): model_row(fitted, facts[ref]) for ref, fitted in found.items()},
        "measured_curves.csv": {(row["ref"], row["quantity"]): row for row in curves_of},
        "spreads.csv": {(ref, ""): spread_row(fitted, facts[ref]) for ref, fitted in found.items()},
    }


def read_table(path: Path) -> Table:
    """A file of `FILES` as it stands."""
    with path.open(encoding="utf-8", newline="") as file:
        return {(row["ref"], row.get("quantity", "")): row for row in csv.DictReader(file)}


def write_table(table: Table, path: Path) -> None:
    """Write a file of `FILES` anew."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, FILES[path.name], lineterminator="\n")
        writer.writeheader()
        writer.writerows(table.values())
