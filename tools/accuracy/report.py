"""Tables of the checks, in Markdown."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tools.accuracy.checks import KINDS, Check
from tools.accuracy.oil_mixtures import Foretold, with_black
from tools.fit.acrylics import white
from tools.fit.colours import MASSTONE_ERROR, SHARE_ERROR, TINT_ERROR, fact_residuals
from tools.fit.facts import Fact
from tools.fit.measured import Curve

SETS = {"all": ("acrylics", "oils"), "acrylics": ("acrylics",), "oils": ("oils",)}


def summary(found: Sequence[Check]) -> str:
    """Misses and radii by kind, for all measured pigments and for each set."""
    lines = [
        "| left out | what | n | median miss | 9 in 10 within | worst | median radius | holds |",
        "| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: |",
    ]
    for name, sources in SETS.items():
        for kind in KINDS:
            part = [c for c in found if c.kind == kind and c.source in sources]
            miss = np.array([c.miss for c in part])
            radius = float(np.median([c.radius for c in part]))
            holds = float(np.mean([c.holds for c in part]))
            lines.append(
                f"| {name} | {kind} | {len(part)} | {np.median(miss):.1f} "
                f"| {np.percentile(miss, 90):.1f} | {miss.max():.1f} | {radius:.1f} "
                f"| {holds:.0%} |"
            )
    return "\n".join(lines)


def by_pigment(found: Sequence[Check]) -> str:
    """Median miss and median radius of each pigment left out, by kind."""
    lines = [
        "| left out | " + " | ".join(KINDS) + " |",
        "| --- " + "| ---: " * len(KINDS) + "|",
    ]
    for ref in dict.fromkeys(c.ref for c in found):
        cells: list[str] = []
        for kind in KINDS:
            part = [c for c in found if c.ref == ref and c.kind == kind]
            miss, radius = np.median([c.miss for c in part]), np.median([c.radius for c in part])
            cells.append(f"{miss:.1f} of {radius:.1f}")
        lines.append(f"| {ref} | " + " | ".join(cells) + " |")
    return "\n".join(lines)


def recollection(facts: dict[str, list[Fact]], truths: dict[str, Curve]) -> str:
    """How far recalled facts are from measurements, beside what the fit takes them to be worth."""
    paper = white()
    sizes = {"masstone": MASSTONE_ERROR, "tint": TINT_ERROR, "share": SHARE_ERROR}
    lines = [
        "| recalled | facts | miss (root mean square) | taken for |",
        "| --- | ---: | ---: | ---: |",
    ]
    for kind, size in sizes.items():
        misses: list[float] = []
        count = 0
        for ref, curve in truths.items():
            for fact in facts[ref]:
                if fact.is_colour and fact.kind.startswith(kind):
                    residual = fact_residuals([fact], curve.K, curve.S, paper)
                    misses.extend(residual * fact.tolerance * size)
                    count += 1
        root = float(np.sqrt(np.mean(np.square(misses))))
        lines.append(f"| {kind} | {count} | {root:.2f} | {size:.2f} |")
    return "\n".join(lines)


def oil_table(found: Sequence[Foretold]) -> str:
    """Mixtures of the old oil paints, foretold and read."""
    lines = [
        "| sample | parts by mass | over black | over white | film and gloss set |",
        "| --- | --- | ---: | ---: | ---: |",
    ]
    lines += [
        f"| {f.sample} | {f.parts} | {f.black:.1f} | {f.white:.1f} | {f.free:.1f} |" for f in found
    ]
    for label, part in (
        ("with bone black", [f for f in found if with_black(f)]),
        ("others", [f for f in found if not with_black(f)]),
    ):
        blind = np.median([v for f in part for v in (f.black, f.white)])
        free = np.median([f.free for f in part])
        lines.append(f"| median | {label} | {blind:.1f} | | {free:.1f} |")
    return "\n".join(lines)
