from __future__ import annotations

import pytest

from tubewise.tables.cells import Spoiled
from tubewise.tubes import fields


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("4.2", 4.2),
        ("4,2", 4.2),
        ("4,20", 4.2),
        ("1.234,50", 1234.5),
        ("1,234.50", 1234.5),
        ("1'234.50", 1234.5),
        ("1 234,50", 1234.5),
        ("1\u202f234,50", 1234.5),
        ("1.234.567", 1234567.0),
        ("0,125", 0.125),
        ("1234", 1234.0),
        ("1.2340", 1.234),
        ("-3", -3.0),
        ("−3", -3.0),
        ("1E+03", 1000.0),
        (37.0, 37.0),
        ("", None),
    ],
)
def test_numbers_in_the_writings_of_many_countries(written: str | float, value: float) -> None:
    assert fields.read_number(written) == value


@pytest.mark.parametrize(
    "written", ["1,234", "1.234", "12,34,5", "four", "1.2.3,4", "--3", "nan", "1,23.45,6", "٣٤x"]
)
def test_a_number_with_two_meanings_or_none_is_refused(written: str) -> None:
    with pytest.raises(ValueError, match=r"can be|no number"):
        fields.read_number(written)


@pytest.mark.parametrize(
    ("written", "ml"),
    [("37", 37), ("37 ml", 37), ("37ML", 37), ("0,2 l", 200), ("2 cl", 20), ("1 fl. oz", 29.5735)],
)
def test_sizes_with_their_units(written: str, ml: float) -> None:
    assert fields.read_size(written) == ml


@pytest.mark.parametrize("written", ["0", "-5", "37 kg", "large", "1000000", 0.0])
def test_sizes_that_no_tube_has(written: str | float) -> None:
    with pytest.raises(ValueError, match="size"):
        fields.read_size(written)


@pytest.mark.parametrize(
    ("written", "price", "currency"),
    [
        ("€ 4,20", 4.2, "EUR"),
        ("4.20 EUR", 4.2, "EUR"),
        ("£3", 3.0, "GBP"),
        ("$5.50", 5.5, "$"),
        ("CHF 3.–", 3.0, "CHF"),
        ("12,- €", 12.0, "EUR"),
        ("7", 7.0, ""),
        (7.25, 7.25, ""),
        ("", None, ""),
    ],
)
def test_prices_with_their_currency(
    written: str | float, price: float | None, currency: str
) -> None:
    assert fields.read_price(written) == (price, currency)


@pytest.mark.parametrize("written", ["free", "€4 USD", "-3", "1e9", "4 for 3", "€"])
def test_prices_that_cannot_be_read(written: str) -> None:
    with pytest.raises(ValueError, match=r"price|number|currenc"):
        fields.read_price(written)


@pytest.mark.parametrize(
    ("written", "count"),
    [("3", 3), ("sold out", 0), ("Ausverkauft", 0), ("in stock", 1), (12.0, 12), ("1.000", 1000)],
)
def test_stock_in_figures_and_words(written: str | float, count: int) -> None:
    assert fields.read_stock(written) == count


@pytest.mark.parametrize("written", ["2.5", "-1", "some"])
def test_stock_is_a_whole_number(written: str) -> None:
    with pytest.raises(ValueError, match="number"):
        fields.read_stock(written)


@pytest.mark.parametrize(
    "written",
    [
        "41.2, 38, -12",
        "41,2; 38; -12",
        "41,2 38 -12",
        "41.2,38,-12",
        "Lab(41.2, 38, −12)",
        "41,2, 38, -12",
    ],
)
def test_swatch_colours_in_many_writings(written: str) -> None:
    assert fields.read_lab(written) == (41.2, 38.0, -12.0)


@pytest.mark.parametrize("written", ["41,2,38,1,-12,3", "41 38", "red", "141, 0, 0", "50, 300, 0"])
def test_swatch_colours_that_cannot_be_read(written: str) -> None:
    with pytest.raises(ValueError, match=r"CIELAB|range"):
        fields.read_lab(written)


@pytest.mark.parametrize(
    ("written", "value"),
    [("#A1B2C3", "#a1b2c3"), ("a1b2c3", "#a1b2c3"), ("#abc", "#aabbcc"), (123456.0, "#123456")],
)
def test_hex_colours(written: str | float, value: str) -> None:
    assert fields.read_hex(written) == value


def test_a_hex_colour_that_lost_its_zeros_is_told() -> None:
    with pytest.raises(ValueError, match="taken it for a number"):
        fields.read_hex(1122.0)


@pytest.mark.parametrize(
    "written", ["2026-03-01", "03.01.2026", "3-Jan", "Jan-19", "01:03:00", "1. Mai 2026"]
)
def test_dates_that_a_spreadsheet_made_of_codes_are_told(written: str) -> None:
    with pytest.raises(ValueError, match="looks like a date"):
        fields.read_codes(written)


def test_codes_are_not_dates() -> None:
    assert fields.read_codes("PV19/gamma 1 + PB29 1") == "PV19/gamma 1 + PB29 1"


def test_a_spoiled_cell_says_why_in_every_reader() -> None:
    cell = Spoiled("2026-03-01", "was turned into a date")
    for read in (fields.read_text, fields.read_number, fields.read_size, fields.read_price):
        with pytest.raises(ValueError, match="turned into a date"):
            read(cell)


def test_grades_and_media_in_several_languages() -> None:
    assert fields.read_grade("Artists'") == "artist"
    assert fields.read_grade("STUDIO") == "student"
    assert fields.read_grade("") == ""
    assert fields.read_medium("Ölfarbe") == "oil"
    assert fields.read_medium("Acrylics") == "acrylic"
    assert fields.read_medium("Casein ") == "casein"
    assert fields.read_medium("") == ""
    with pytest.raises(ValueError, match="did you mean watercolour"):
        fields.read_medium("Aqarell")
    with pytest.raises(ValueError, match="no medium we know; write acrylic, oil"):
        fields.read_medium("encaustic")
    with pytest.raises(ValueError, match="artist or student"):
        fields.read_grade("luxury")


def test_overlong_text_is_refused() -> None:
    with pytest.raises(ValueError, match="characters"):
        fields.read_text("x" * 3000)


def test_currencies() -> None:
    assert fields.read_currency("€") == "EUR"
    assert fields.read_currency("eur") == "EUR"
    with pytest.raises(ValueError, match="no currency"):
        fields.read_currency("10 apples")
