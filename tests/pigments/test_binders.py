"""Binders by the names that people write for them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tubewise.errors import UserError
from tubewise.pigments.binders import (
    binder_named,
    binders,
    is_matt,
    laid_as,
    rated_as,
    read_binders,
)
from tubewise.pigments.terms import BINDERS


@pytest.mark.parametrize(
    ("binder", "written"),
    [
        ("acrylic", "Acrylics|ACRYL|Acrylfarbe|peinture acrylique|acrílico|acrilico|acrylic ink"),
        ("oil", "oil colour|Öl|Oelfarben|huile|peinture à l'huile|óleo|olio|colori a olio"),
        (
            "water-mixable oil",
            "water-mixable oil|Water Mixable Oils|wassermischbare Ölfarbe|huile à l'eau"
            "|óleo al agua|olio ad acqua|WMO",
        ),
        ("alkyd", "alkyd oil|Alkydharzfarbe|huile alkyde|óleo alquídico|olio alchidico"),
        ("watercolour", "wc|W/C|water color|Aquarell|Aquarelle|acuarela|acquerello|waterverf"),
        ("gouache", "Designers' Gouache|guache|guazzo|Deckfarbe|poster paint"),
        ("acrylic gouache", "Acryl-Gouache|gouache acrylique|gouache acrílico|tempera acrilica"),
        ("casein", "Kasein|caséine|caseína|tempera alla caseina"),
        ("tempera", "egg tempera|Eitempera|tempera à l’œuf|témpera|tempera all'uovo"),
        ("ink", "India ink|Tusche|encre de Chine|tinta china|inchiostro"),
        ("pastel", "soft pastels|Pastellkreide|pastels secs|pasteles|pastelli"),
    ],
)
def test_a_binder_is_known_by_its_usual_names(binder: str, written: str) -> None:
    assert {word: binder_named(word) for word in written.split("|")} == dict.fromkeys(
        written.split("|"), binder
    )


def test_a_blank_says_no_binder_and_an_unknown_word_is_refused() -> None:
    assert binder_named("  ") == ""
    with pytest.raises(ValueError, match="“Gouashe” is no medium we know; did you mean gouache"):
        binder_named("Gouashe")
    with pytest.raises(ValueError, match=r"write acrylic, oil, .* or pastel, or leave it blank"):
        binder_named("encaustic")
    with pytest.raises(ValueError, match="no medium we know"):
        binder_named("???")


def test_every_binder_has_a_note_a_source_and_an_english_name_of_its_own() -> None:
    for binder in binders().values():
        assert binder.note.endswith(".") and binder.source
        assert binder_named(binder.name) == binder.name
        assert binder.rated_as in ("", *BINDERS)


def test_a_rating_is_taken_from_the_standard_of_the_film_or_from_none() -> None:
    assert rated_as("alkyd") == "oil"
    assert rated_as("Acrylgouache") == "acrylic"
    assert rated_as("casein") == rated_as("no such thing") == rated_as("") == ""


def test_one_word_for_two_binders_is_a_fault_of_the_file(tmp_path: Path) -> None:
    file = tmp_path / "binders.csv"
    file.write_text(
        "binder,family,rated_as,laid,surface,words,note,source\n"
        "oil,oil-bound,oil,film,gloss,oil; paint,A drying oil.,book\n"
        "acrylic,acrylic-bound,plastic,glaze,shiny,acrylic; Paint,A dispersion.,\n",
        encoding="utf-8",
    )
    with pytest.raises(UserError) as error:
        read_binders(file)
    faults = "\n".join(error.value.problems)
    assert "row 3, column words" in faults and "'Paint' stands already for oil" in faults
    assert "row 3, column rated_as" in faults and "row 3, column source" in faults
    assert "row 3, column laid" in faults and "row 3, column surface" in faults


@pytest.mark.parametrize(
    ("medium", "laid", "matt"),
    [
        ("Aquarell", "wash", True),
        ("gouache", "body", True),
        ("Kasein", "body", True),
        ("acrylic gouache", "body", True),
        ("oil", "film", False),
        ("", "film", False),
    ],
)
def test_how_a_binder_is_laid_and_dries(medium: str, laid: str, matt: bool) -> None:
    """Common practice, no source."""
    assert laid_as(medium) == laid
    assert is_matt(medium) == matt
