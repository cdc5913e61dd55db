"""What tests of the demo's data look for, and how."""

from __future__ import annotations

from pathlib import Path

import tubewise.demo
from tubewise.tubes.tube import Box, Tube

DEMO = Path(tubewise.demo.__file__).parent
SPRING_GREENS = ({"PY3", "PY74", "PG7", "PW6"}, {"PY3", "PY97", "PG7", "PW6"})


def codes(tube: Tube) -> tuple[str, ...]:
    return tuple(pigment.code for pigment in tube.reading.pigments)


def warned(tube: Tube) -> set[str]:
    return {warning.kind for warning in tube.reading.warnings}


def find(shop: list[Tube], line: str, name: str, medium: str = "acrylic") -> Tube:
    found = [t for t in shop if (t.line, t.name, t.medium) == (line, name, medium)]
    assert found, f"no {line} {name} in {medium}"
    return found[0]


def in_box(box: Box, name: str) -> Tube:
    (found,) = (t for t in box.tubes if t.name == name)
    return found
