"""docs/security.md names every limit, with the value that it has."""

from __future__ import annotations

from pathlib import Path

import pytest

from tubewise import limits

PAGE = (Path(__file__).parents[2] / "docs" / "security.md").read_text(encoding="utf-8")
LIMITS = {name: value for name, value in vars(limits).items() if name.isupper() and len(name) > 2}


def shown(value: float) -> str:
    """A limit as the page writes it."""
    for unit, size in (("GB", limits.GB), ("MB", limits.MB)):
        if value >= size and value % size == 0 and value != 1_048_576:
            return f"{value // size} {unit}"
    if value >= 10_000_000:
        return f"{value // 10**6} million"
    return f"{value:,g}" if value < 10**6 else f"{int(value):,}"


@pytest.mark.parametrize("name", LIMITS)
def test_every_limit_is_named_with_its_value(name: str) -> None:
    assert f"`{name}` {shown(LIMITS[name])}" in PAGE
