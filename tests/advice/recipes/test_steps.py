"""In what order to mix."""

from __future__ import annotations

import numpy as np

from tests.advice.recipes.six_tubes import named
from tubewise.advice.recipes.steps import mixing_steps
from tubewise.paints.wash import water


def test_light_and_weak_paints_come_first_and_strong_ones_a_little_at_a_time() -> None:
    paints = [named(f"Oakfen Fenland {name}") for name in ("Phthalo Green", "Titanium White")]
    assert mixing_steps(paints, np.array([1.0, 6.0])) == (
        "start with 6 of Oakfen Fenland Titanium White",
        "add 1 of Oakfen Fenland Phthalo Green, a little at a time: it is strong",
    )


def test_one_tube_needs_no_mixing() -> None:
    paint = named("Oakfen Fenland Cadmium Red")
    assert mixing_steps([paint], np.array([1.0])) == ("straight from the tube",)


def test_a_wash_is_mixed_first_and_thinned_then() -> None:
    green, white = (named(f"Oakfen Fenland {name}") for name in ("Phthalo Green", "Titanium White"))
    steps = mixing_steps([water(), white, green], np.array([14.0, 6.0, 1.0]))
    assert steps[0].startswith("start with 6") and steps[-1] == "thin the 7 with 14 of water"
    assert mixing_steps([water(), green], np.array([6.0, 1.0])) == ("thin the 1 with 6 of water",)
