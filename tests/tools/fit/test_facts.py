"""The facts that pigments are fitted to."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools.fit.facts import last, read_facts
from tubewise.errors import UserError
from tubewise.pigments.register import load

FACTS = read_facts()
HEAD = "ref,fact,value,tolerance,source\n"


def test_every_colour_of_the_register_has_facts_with_a_source() -> None:
    assert set(FACTS) == set(load().refs)
    assert all(fact.source for facts in FACTS.values() for fact in facts)


def test_cadmium_red_medium_is_darker_than_light() -> None:
    medium, light = (last(FACTS[f"PR108/{form}"], "masstone") for form in ("medium", "light"))
    assert medium is not None and light is not None
    assert medium.numbers == (43.0, 57.0, 29.0)
    assert medium.numbers[0] < light.numbers[0] - 5.0


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("PB29,colour,1 2 3,1,me", "unknown fact 'colour'"),
        ("PB29,masstone,1 2 x,1,me", "not a number"),
        ("PB29,bands,600 20,1,me", "three numbers"),
        ("PB29,masstone,1 2 3,much,me", "not a number"),
    ],
)
def test_a_bad_fact_is_refused_by_line(line: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "facts.csv"
    path.write_text(HEAD + line + "\n", encoding="utf-8")
    with pytest.raises(UserError, match=f"line 2.*{says}"):
        read_facts(path)
