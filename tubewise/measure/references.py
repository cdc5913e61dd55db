"""Optics that a fit leans on: the white of the tints, and the model of the paint's pigments."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tubewise.colour.arrays import Floats

# Trust in the logarithm of a modelled paint's scattering where a measurement borrows it
# (common practice, no source).
MODEL_SCATTER_SPREAD = 0.4


@dataclass(frozen=True, slots=True, eq=False)
class Optics:
    """K and S (36,) of a paint that the fit leans on, and what to call it."""

    K: Floats
    S: Floats
    name: str


def modelled_white() -> Optics:
    """The register's titanium white, PW6."""
    from tubewise.pigments.models import optics

    white = optics("PW6")
    return Optics(np.array(white.K), np.array(white.S), "the modelled titanium white PW6")


def only_model(refs: Sequence[str]) -> Optics | None:
    """The model of a paint's only pigment; None for a paint of several or of none declared."""
    from tubewise.pigments.models import optics

    if len(refs) != 1:
        return None
    found = optics(refs[0])
    return Optics(found.K, found.S, f"modelled {found.ref}")
