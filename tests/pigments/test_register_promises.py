"""What a tube's name promises: phrases in several languages, the longest winning."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubewise.pigments.register import load
from tubewise.pigments.words import find_phrases, phrase_key, words_of

REGISTER = load()


@pytest.mark.parametrize(
    ("name", "phrase", "code"),
    [
        ("Cadmium Red Medium", "Cadmium Red", "PR108"),
        ("Cadmium-red (hue)", "Cadmium-red", "PR108:1"),
        ("Kadmiumrotton dunkel", "Kadmiumrotton", "PR108"),
        ("Rouge de cadmium clair", "Rouge de cadmium", "PR108"),
        ("GIALLO DI CADMIO", "GIALLO DI CADMIO", "PY35"),
        ("Cobalt Blue", "Cobalt Blue", "PB28"),
        ("Kobaltblau", "Kobaltblau", "PB28"),
        ("French Ultramarine", "French Ultramarine", "PB29"),
        ("Permanent green with Bleu outremer", "Bleu outremer", "PB29"),
        ("Alizarin Crimson", "Alizarin Crimson", "PR83"),
        ("Viridian", "Viridian", "PG18"),
        ("Bleu céruléum", "Bleu céruléum", "PB35"),
        ("Cerulean blue", "Cerulean blue", "PB36"),
        ("Vermilion", "Vermilion", "PR106"),
        ("Flake White", "Flake White", "PW1"),
        ("Blanc de plomb", "Blanc de plomb", "PW1"),
        ("Naples yellow genuine", "Naples yellow genuine", "PY41"),
        ("Burnt Sienna", "Burnt Sienna", "PBr7"),
        ("Burnt Sienna", "Burnt Sienna", "PR101"),
        ("Phthalo blue (green shade)", "Phthalo blue", "PB15:3"),
        ("Quinacridone Magenta", "Quinacridone Magenta", "PR122"),
        ("Dioxazine Purple", "Dioxazine Purple", "PV23"),
        ("Prussian blue", "Prussian blue", "PB27"),
        ("Elfenbeinschwarz", "Elfenbeinschwarz", "PBk9"),
        ("Lamp Black", "Lamp Black", "PBk6"),
        ("Mars Black", "Mars Black", "PBk11"),
        ("Titanweiß", "Titanweiß", "PW6"),
        ("TITANWEISS", "TITANWEISS", "PW6"),
        ("Blanco de titanio", "Blanco de titanio", "PW6"),
        ("Zinc White", "Zinc White", "PW4"),
    ],
)
def test_a_plain_name_promises_its_pigment(name: str, phrase: str, code: str) -> None:
    (promise,) = REGISTER.promises(name)
    start, end = promise.span
    assert name[start:end] == phrase
    assert code in promise.codes
    assert promise.strength == "pigment"


@pytest.mark.parametrize(
    ("name", "promise", "not_promised"),
    [
        ("Cobalt green", "cobalt green", "PB28"),
        ("Cobalt turquoise", "cobalt turquoise", "PV14"),
        ("Ultramarine violet", "ultramarine violet", "PB29"),
        ("Phthalo green", "phthalo green", "PB15:3"),
        ("Titanium-zinc white", "titanium zinc white", "PY53"),
        ("Cadmium vermilion", "cadmium vermilion", "PR106"),
        ("Chromoxidgrün feurig", "viridian", "PG17"),
    ],
)
def test_the_longest_phrase_wins(name: str, promise: str, not_promised: str) -> None:
    (found,) = REGISTER.promises(name)
    assert found.promise == promise
    assert not_promised not in found.codes


@pytest.mark.parametrize(
    "name",
    ["Emerald green", "Naples yellow", "Sap green", "Payne's grey", "Permanent Alizarin Crimson"],
)
def test_some_names_are_names_only_in_the_trade(name: str) -> None:
    (found,) = REGISTER.promises(name)
    assert found.strength == "name only"


def test_a_name_may_promise_two_pigments() -> None:
    found = REGISTER.promises("Cobalt blue + zinc white")
    assert [promise.promise for promise in found] == ["cobalt blue", "zinc white"]


def test_free_names_promise_nothing() -> None:
    assert REGISTER.promises("Sunday morning, series 2") == ()
    assert REGISTER.promises("") == ()


def test_part_of_a_word_is_no_promise() -> None:
    assert REGISTER.promises("Indigolite") == ()


def test_accents_written_as_two_characters_keep_their_span() -> None:
    name = "Bleu ce\u0301rule\u0301um fonce\u0301"
    (found,) = REGISTER.promises(name)
    assert name[slice(*found.span)] == "Bleu ce\u0301rule\u0301um"


@given(st.text(max_size=60))
def test_spans_lie_in_the_text_in_order(text: str) -> None:
    last = 0
    for promise in REGISTER.promises(text):
        start, end = promise.span
        assert last <= start < end <= len(text)
        last = end


@given(st.text(max_size=30), st.text(max_size=30))
def test_a_phrase_is_found_amid_anything(before: str, after: str) -> None:
    text = f"{before} | Viridian | {after}"
    assert any(
        text[slice(*promise.span)].startswith("Viridian") for promise in REGISTER.promises(text)
    )


@given(st.text(max_size=40))
def test_a_phrase_and_its_words_fold_alike(text: str) -> None:
    assert phrase_key(text) == tuple(word.folded for word in words_of(text))


@pytest.mark.parametrize("text", ["Céruléum", "ce\u0301rule\u0301um", "CERULEUM"])
def test_accents_and_capitals_do_not_matter(text: str) -> None:
    assert phrase_key(text) == ("ceruleum",)


def test_no_phrases_find_nothing() -> None:
    assert list(find_phrases("cobalt blue", {})) == []


def test_a_pigments_own_names_never_promise_another_pigment() -> None:
    """A "cadmium-barium yellow" is no barium yellow, "antimony vermilion" no vermilion."""
    wrong = {
        (pigment.code, name, promise.promise)
        for pigment in REGISTER
        for name in pigment.names
        for promise in REGISTER.promises(name)
        if promise.strength == "pigment" and pigment.code not in promise.codes
    }
    assert wrong == set()
