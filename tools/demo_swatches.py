"""Fill the swatch columns of the demo catalogue from what is really in its invented tubes.

`python -m tools.demo_swatches` mixes each tube by the built-in optics from the parts in
true-parts.csv, as a factory would: every batch a little off its recipe, student paint let down
with extender, the instrument not quite steady. All noise is seeded by the tube's own words, so a
rerun changes nothing unless the optics or the recipes do. The advice never reads true-parts.csv.
"""

from __future__ import annotations

import csv
import zlib
from collections.abc import Mapping
from pathlib import Path

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.hexes import hex_from_lab
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.mixture import mix
from tubewise.optics.surface import gloss_read, measured_from_internal
from tubewise.pigments import models
from tubewise.pigments.binders import is_matt

Product = tuple[str, str, str, str]

DEMO = Path(__file__).parents[1] / "tubewise" / "demo"

# Spread of each pigment's share from batch to batch, as a standard deviation of its logarithm,
# and of a swatch reading in CIELAB units. common practice, no source.
BATCH_SPREAD = 0.05
READING_SPREAD = 0.15
# Pigment left in student paint by volume, and the scattering of the extender that takes the place
# of the rest (titanium white is 1): chalk nearly vanishes in a binder. common practice, no source.
STUDENT_LOAD = 0.5
EXTENDER_SCATTER = 0.004

# Paints whose maker shows no swatch at all, and those shown only on a screen: there the parts, or
# the form, stay a guess or nearly so.
NO_SWATCH = {
    ("Kaltenrain", "Lärche", "acrylic", "Chinacridon"),
    ("Kaltenrain", "Lärche", "acrylic", "Phthaloblau"),
    ("Kaltenrain", "Lehrling", "acrylic", "May Green"),
    ("Kaltenrain", "Lehrling", "acrylic", "Grey"),
    ("Thornquay", "Dabble", "acrylic", "Sap Green"),
    ("Thornquay", "Wherry", "oil", "Payne's Grey"),
    ("Corvelle", "Premier Pas", "acrylic", "Rouge vermillon imit."),
    ("Ostervik", "Sild", "acrylic", "Sap Green"),
    ("Ostervik", "Sild", "acrylic", "Grey"),
}
SCREEN_ONLY = {
    ("Ostervik", "Sild", "acrylic", "Permanent Rose"),
    ("Ostervik", "Sild", "acrylic", "Brown"),
    ("Ostervik", "Nordskær", "oil", "Sap Green"),
    ("Corvelle", "Premier Pas", "acrylic", "Turquoise"),
    ("Kaltenrain", "Lärche", "acrylic", "Warmgrau"),
}
# A neighbour's label was stuck on it; the swatch is what gives it away.
ALWAYS_SHOWN = {("Ostervik", "Sild", "acrylic", "Lemon Yellow")}


def product(row: Mapping[str, str]) -> Product:
    """What names a paint, whatever its size."""
    return row["maker"], row["line"], row["medium"], row["name"]


def read_true_parts(path: Path = DEMO / "true-parts.csv") -> dict[Product, dict[str, float]]:
    """Pigment refs and their parts by volume at full load, for every paint we know inside out."""
    with path.open(encoding="utf-8", newline="") as file:
        return {
            product(row): {
                ref: float(parts)
                for ref, _, parts in (term.rpartition(" ") for term in row["parts"].split(" + "))
            }
            for row in csv.DictReader(file)
        }


def swatch(parts: Mapping[str, float], grade: str, seed: str, medium: str = "acrylic") -> Floats:
    """CIELAB (3,), D65/2°, of an opaque swatch of one batch of a paint.

    It is read as most makers do: without the mirror reflection, which a matt skin has not.
    `parts` by volume at artist load; `grade` `student` lets the paint down with extender.
    """
    rng = np.random.default_rng(zlib.crc32(seed.encode("utf-8")))
    optics = [models.optics(ref) for ref in parts]
    weighed = np.array(list(parts.values())) * np.exp(
        BATCH_SPREAD * rng.standard_normal(len(parts))
    )
    K, S = mix(np.stack([o.K for o in optics]), np.stack([o.S for o in optics]), weighed)
    if grade == "student":
        K, S = STUDENT_LOAD * K, STUDENT_LOAD * S + (1.0 - STUDENT_LOAD) * EXTENDER_SCATTER
    skin = gloss_read("included" if is_matt(medium) else "excluded")
    lab = lab_from_reflectance(measured_from_internal(opaque_reflectance(K, S), skin))
    return lab + READING_SPREAD * rng.standard_normal(3)


def shown_as(paint: Product, pigments: int) -> str:
    """Which swatch column a maker fills: `swatch_lab`, `swatch_hex` or neither (empty).

    Blended colours are measured, bar a few; of the others a third are, and a sixth have only a
    screen colour.
    """
    if paint in ALWAYS_SHOWN:
        return "swatch_lab"
    if paint in NO_SWATCH:
        return ""
    if paint in SCREEN_ONLY:
        return "swatch_hex"
    if pigments > 1:
        return "swatch_lab"
    lot = zlib.crc32("/".join(paint).encode("utf-8")) % 6
    return {0: "swatch_lab", 1: "swatch_lab", 2: "swatch_hex"}.get(lot, "")


def fill(path: Path = DEMO / "catalogue.csv") -> int:
    """Rewrite the swatch columns of the catalogue; returns how many tubes have a swatch now."""
    truth = read_true_parts()
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file)
        columns = list(reader.fieldnames or ())
        rows = list(reader)
    for row in rows:
        row["swatch_lab"] = row["swatch_hex"] = ""
        parts = truth.get(product(row))
        column = shown_as(product(row), len(parts)) if parts else ""
        if parts and column:
            seed = "/".join((*product(row), row["size_ml"]))
            lab = swatch(parts, row["grade"], seed, row["medium"])
            if column == "swatch_lab":
                row[column] = ", ".join(
                    f"{value:.1f}" for value in np.clip(lab, [0, -200, -200], [100, 200, 200])
                )
            else:
                row[column] = str(hex_from_lab(lab))
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, columns, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    return sum(bool(row["swatch_lab"] or row["swatch_hex"]) for row in rows)


if __name__ == "__main__":
    print(f"{fill()} tubes have a swatch")
