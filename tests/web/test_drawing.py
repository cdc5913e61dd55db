"""Pictures: what a strip, a chart and a marked label hold, and that text in them is escaped."""

from __future__ import annotations

from xml.etree import ElementTree

from tubewise.colour.patch import Colour
from tubewise.paints.strip import Strip
from tubewise.web.drawing import marked, plane_svg, row_svg, spectra_svg, strip_svg, swatch_svg

STRIP = Strip(
    masstone="#101010",
    over_white=("#111111", "#222222"),
    over_black=("#333333", "#444444"),
    tints=("#a00000", "#b00000", "#c00000"),
)


def test_a_strip_has_its_films_and_tints() -> None:
    text = strip_svg(STRIP, 'a "red" <strip>')
    svg = ElementTree.fromstring(text)
    assert len(svg.findall(".//stop")) == 4 and len(svg.findall("rect")) == 6
    assert svg.get("aria-label") == 'a "red" <strip>'
    assert "style" not in text


def test_two_strips_share_no_names() -> None:
    ids = [
        g.get("id")
        for text in (strip_svg(STRIP), strip_svg(STRIP))
        for g in ElementTree.fromstring(text).findall(".//linearGradient")
    ]
    assert len(set(ids)) == 4


def test_what_nobody_knows_is_drawn_empty() -> None:
    assert "not known" in strip_svg(None)
    assert "?" in swatch_svg(None)
    assert "#123456" in swatch_svg("#123456") and "#778899" in swatch_svg(
        Colour((50, 0, 0), "#778899")
    )


def test_rows_and_charts_are_well_formed() -> None:
    assert (
        len(ElementTree.fromstring(row_svg(["#111111", "#222222"], "two", 2)).findall("rect")) == 2
    )
    chart = spectra_svg(
        [("<a>", "#111111", (380, 730), (0.1, 0.9)), ("b", "#222222", (380, 730), (2, -1))]
    )
    assert len(ElementTree.fromstring(chart).findall("polyline")) == 2
    plane = plane_svg([("a", "#111111", (50, 80, -70)), ("b", "#222222", (50, 0, 0))])
    assert len(ElementTree.fromstring(plane).findall("circle")) == 2


def test_marks_lie_on_their_spans() -> None:
    text = marked(
        "a <PV19> b", [(3, 7, "code", "rose"), (5, 7, "doubt", "inside"), (9, 9, "x", "")]
    )
    assert text == 'a &lt;<mark class="code" title="rose">PV19</mark>&gt; b'
