"""One grammar of parts for prompts, files, pages and addresses."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubewise.errors import UserError
from tubewise.tubes.parts_written import parts_in

SAME = [
    "PB29 2 + PW6 1",
    "2 PB29 + 1 PW6",
    "PB29=2, PW6=1",
    "PB29=2 + PW6",
    "PB29: 2; PW6: 1",
    "2 x PB29, PW6 x1",
    "2 parts PB29 and 1 part PW6",
    "2 Teile PB29 und 1 Teil PW6",
    "PB29 2\nPW6 1",
]


@pytest.mark.parametrize("text", SAME)
def test_every_way_of_writing_means_the_same(text: str) -> None:
    assert [(p.term, p.parts) for p in parts_in(text)] == [("PB29", 2.0), ("PW6", 1.0)]


@pytest.mark.parametrize(
    ("text", "term", "parts"),
    [
        ("PB15:3", "PB15:3", 1.0),
        ("PB15:3 2", "PB15:3", 2.0),
        ("PB15:3=0,5", "PB15:3", 0.5),
        ("PB 29", "PB 29", 1.0),
        ("PB 29 4", "PB 29", 4.0),
        ("3 parts of Fenland Ultramarine", "Fenland Ultramarine", 3.0),
        ("PV19/gamma=1", "PV19/gamma", 1.0),
    ],
)
def test_codes_stay_whole(text: str, term: str, parts: float) -> None:
    (found,) = parts_in(text)
    assert (found.term, found.parts) == (term, parts)


def test_parts_beyond_reason_are_refused() -> None:
    with pytest.raises(UserError, match="0 to 1000"):
        parts_in("PB29=1001")
    with pytest.raises(UserError, match="as a number"):
        parts_in("PB29=much")


@given(
    st.lists(
        st.tuples(st.sampled_from(["PB29", "PW6", "PB15:3", "PV19/gamma"]), st.integers(0, 1000)),
        min_size=1,
    )
)
def test_what_is_written_our_own_way_is_read_back(pairs: list[tuple[str, int]]) -> None:
    text = " + ".join(f"{term} {parts}" for term, parts in pairs)
    assert [(p.term, p.parts) for p in parts_in(text)] == [(t, float(n)) for t, n in pairs]
