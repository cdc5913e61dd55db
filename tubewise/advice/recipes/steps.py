"""In what order to mix: light and weak colours first, strong ones a little at a time."""

from __future__ import annotations

from collections.abc import Sequence

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.paints.appearance import appearance
from tubewise.paints.paint import Paint
from tubewise.paints.wash import is_water

# A paint that absorbs this much is added a little at a time. common practice, no source.
STRONG = 1.5


def strength(paint: Paint) -> float:
    """How much a paint absorbs at its darkest wavelength (K, white S = 1 at 560 nm)."""
    return float(paint.K[0].max())


def mixing_steps(paints: Sequence[Paint], parts: Floats) -> tuple[str, ...]:
    """One sentence for each paint, in the order of mixing, and one for the water; `parts` (n,)."""
    water = [float(n) for p, n in zip(paints, parts, strict=True) if is_water(p)]
    if water and len(paints) > len(water):
        dry = [i for i, paint in enumerate(paints) if not is_water(paint)]
        thin = f"thin the {parts[dry].sum():g} with {sum(water):g} of water"
        if len(dry) < 2:
            return (thin,)
        return (*mixing_steps([paints[i] for i in dry], parts[dry]), thin)
    if len(paints) < 2:
        return ("straight from the tube",)
    light = [float(lab_from_reflectance(appearance(p.K[0], p.S[0]))[0]) for p in paints]
    strong = [strength(p) > STRONG for p in paints]
    first, *rest = sorted(range(len(paints)), key=lambda i: (strong[i], -light[i]))
    return (
        f"start with {parts[first]:g} of {paints[first].name}",
        *(
            f"add {parts[i]:g} of {paints[i].name}"
            + (", a little at a time: it is strong" if strong[i] else "")
            for i in rest
        ),
    )
