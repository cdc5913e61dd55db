"""Models of the measured pigments as they would be had nobody measured them."""

from __future__ import annotations

from collections.abc import Mapping

from tools.fit.acrylics import white
from tools.fit.everything import Fitted, fit_one, told_by_measured
from tools.fit.facts import Fact, last
from tools.fit.families import Seen, read_families
from tools.fit.measured import Curve, curves


def measured_pigments(facts: Mapping[str, list[Fact]]) -> dict[str, Curve]:
    """The measured pigments that can be left out, by ref, each paint once.

    Whites and extenders stay, since their scattering is given.
    """
    found: dict[str, Curve] = {}
    paints: set[tuple[str, tuple[str, ...]]] = set()
    # PB15:3 stands on the reading of PB15:4, which comes first in the alphabet of its samples.
    for ref, curve in sorted(curves().items(), key=lambda item: item[0] not in item[1].samples):
        paint = (curve.source, curve.samples)
        if last(facts[ref], "level") is None and paint not in paints:
            paints.add(paint)
            found[ref] = curve
    return {ref: found[ref] for ref in curves() if ref in found}


def left_out(facts: Mapping[str, list[Fact]], *, family: bool = False) -> dict[str, Fitted]:
    """Each measured pigment fitted without its measurement, or without any of its `family`."""
    paper = white()
    known_means = told_by_measured(facts, curves(), paper)
    families = read_families()
    kin = {ref: families.of(ref).name for ref in known_means}

    def known(ref: str) -> dict[str, Seen]:
        out = families.of(ref).name
        return {
            other: seen
            for other, seen in known_means.items()
            if other != ref and not (family and kin[other] == out)
        }

    return {
        ref: fit_one(ref, facts[ref], families.learnt(known(ref)).of(ref), paper)
        for ref in measured_pigments(facts)
    }
