from __future__ import annotations

import pytest

from tests.invented import tube
from tubewise.advice.amounts import enough, together, tubes_needed


@pytest.mark.parametrize(
    ("have", "want", "will_do"),
    [
        (36.97, 37.0, True),
        (37.0, 37.0, True),
        (14.0, 15.0, True),
        (13.9, 15.0, False),
        (198.0, 200.0, True),
        (197.9, 200.0, False),
        (None, 37.0, True),
        (5.0, 0.0, True),
    ],
)
def test_sizes_compare_with_a_tolerance(have: float | None, want: float, will_do: bool) -> None:
    assert enough(have, want) is will_do


def test_amounts_add_over_tubes_of_one_kind() -> None:
    small = tube("Titanium White", "PW6", size_ml=37.0)
    assert together([small, small]) == 74.0
    assert together([small, tube("Titanium White", "PW6", size_ml=None)]) is None
    assert together([]) == 0.0


@pytest.mark.parametrize(
    ("size", "want", "have", "count"),
    [
        (37.0, 100.0, 0.0, 3),
        (36.97, 37.0, 0.0, 1),
        (37.0, 75.0, 0.0, 2),
        (37.0, 100.0, 60.0, 2),
        (37.0, 60.0, 59.5, 0),
        (None, 60.0, 0.0, 1),
        (60.0, 20.0, 0.0, 1),
    ],
)
def test_only_what_is_short_is_bought(
    size: float | None, want: float, have: float, count: int
) -> None:
    assert tubes_needed(size, want, have) == count
