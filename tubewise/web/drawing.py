"""Pictures of paint as SVG: strips, swatches, spectra and the a*b* plane.

Colours are presentation attributes, which a strict content security policy lets through; nothing
here needs a style or a script.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count

from markupsafe import Markup, escape

from tubewise.colour.patch import Colour
from tubewise.paints.strip import BLACK_BAND, Strip

_numbers = count(1)
# A strip is 100 wide and 20 high: the paint alone, the wash, the tints.
_ALONE, _WASH, _TINT = 12.0, 52.0, 9.0
# Neighbours overlap a little, so that no seam of the page shows between them.
_OVERLAP = 0.3
# The tint that shows a hue best: paler ones fade, deeper ones are dark still.
_TELLING = 1


def _gradient(name: str, colours: Sequence[str]) -> Markup:
    last = len(colours) - 1
    stops = Markup("").join(
        Markup('<stop offset="{}" stop-color="{}"/>').format(f"{i / last:.3f}", colour)
        for i, colour in enumerate(colours)
    )
    return Markup('<linearGradient id="{}">{}</linearGradient>').format(name, stops)


def strip_svg(strip: Strip | None, words: str = "") -> Markup:
    """A drawdown strip, edge to edge.

    The paint stands alone, thins over a white card that a narrow black band crosses, then come the
    tints; in watercolour it thins over paper, then come washes.
    `words` say what it shows; without them it is decoration beside text that says it.
    """
    if strip is None:
        return Markup('<div class="nostrip"><span>colour not known</span></div>')
    n = next(_numbers)
    tints = Markup("").join(
        Markup('<rect x="{}" y="0" width="{}" height="20" fill="{}"/>').format(
            f"{_ALONE + _WASH + i * _TINT:g}",
            f"{_TINT + (_OVERLAP if i < len(strip.tints) - 1 else 0):g}",
            c,
        )
        for i, c in enumerate(strip.tints)
    )
    return Markup(
        '<svg class="strip" viewBox="0 0 100 20" preserveAspectRatio="none" {}>'
        "<defs>{}</defs>"
        '<rect x="0" y="0" width="{}" height="20" fill="{}"/>'
        '<rect x="{}" y="0" width="{}" height="20" fill="url(#w{})"/>{}{}</svg>'
    ).format(
        _labelled(words),
        _gradient(f"w{n}", strip.over_white),
        f"{_ALONE + _OVERLAP:g}",
        strip.masstone,
        f"{_ALONE:g}",
        f"{_WASH + _OVERLAP:g}",
        n,
        _black_band(strip.over_black, n) if strip.over_black else "",
        tints,
    )


def _black_band(colours: Sequence[str], n: int) -> Markup:
    """The card's black band as it shows through the wash; a wash on paper has none."""
    band = 20.0 * BLACK_BAND
    return Markup(
        '<defs>{}</defs><rect x="{}" y="{}" width="{}" height="{}" fill="url(#k{})"/>'
    ).format(
        _gradient(f"k{n}", colours),
        f"{_ALONE:g}",
        f"{10.0 - band / 2.0:g}",
        f"{_WASH:g}",
        f"{band:g}",
        n,
    )


def _labelled(words: str) -> Markup:
    if not words:
        return Markup('aria-hidden="true" focusable="false"')
    return Markup('role="img" aria-label="{}"').format(words)


def tile_svg(strip: Strip | None, words: str = "") -> Markup:
    """A small upright tile: the paint alone above, its first and second tint below.

    Violets, blues and greens that are all nearly black alone are told apart by their tints.
    """
    if strip is None:
        return Markup('<div class="nostrip"><span>?</span></div>')
    return Markup(
        '<svg class="tile" viewBox="0 0 1 20" preserveAspectRatio="none" {}>'
        '<rect width="1" height="10.1" fill="{}"/><rect y="10" width="1" height="5.1" fill="{}"/>'
        '<rect y="15" width="1" height="5" fill="{}"/></svg>'
    ).format(_labelled(words), strip.masstone, strip.tints[0], strip.tints[_TELLING])


def swatch_svg(colour: Colour | str | None, words: str = "") -> Markup:
    """One flat colour that fills its place."""
    hex_ = colour.hex if isinstance(colour, Colour) else colour
    if not hex_:
        return Markup('<div class="nostrip"><span>?</span></div>')
    return Markup(
        '<svg class="swatch" viewBox="0 0 1 1" preserveAspectRatio="none" {}>'
        '<rect width="1" height="1" fill="{}"/></svg>'
    ).format(_labelled(words), hex_)


def row_svg(colours: Sequence[str], words: str, first: int = 1) -> Markup:
    """Flat colours that touch in one row; the first is `first` times as wide."""
    wide = first + len(colours) - 1
    rects = []
    x = 0
    for i, colour in enumerate(colours):
        width = first if i == 0 else 1
        rects.append(
            Markup('<rect x="{}" width="{}" height="1" fill="{}"/>').format(
                x, f"{width + (0.02 if i < len(colours) - 1 else 0):g}", colour
            )
        )
        x += width
    return Markup(
        '<svg class="row" viewBox="0 0 {} 1" preserveAspectRatio="none" {}>{}</svg>'
    ).format(wide, _labelled(words), Markup("").join(rects))


_DASHES = ("", "7 3", "2 3", "9 3 2 3")


def spectra_svg(curves: Sequence[tuple[str, str, Sequence[float], Sequence[float]]]) -> Markup:
    """Reflectance by wavelength of (name, hex, nm, R) each; told apart by dashes, not by colour."""

    def x(nm: float) -> float:
        return 40.0 + (nm - 380.0) / 350.0 * 500.0

    def y(R: float) -> float:
        return 210.0 - max(0.0, min(R, 1.0)) * 200.0

    grid = Markup("").join(
        Markup(
            '<line class="axis" x1="40" x2="540" y1="{0}" y2="{0}"/>'
            '<text class="ticktext" x="34" y="{1}" text-anchor="end">{2}</text>'
        ).format(f"{y(v):g}", f"{y(v) + 4:g}", f"{v * 100:g}")
        for v in (0.0, 0.25, 0.5, 0.75, 1.0)
    ) + Markup("").join(
        Markup('<text class="ticktext" x="{}" y="228" text-anchor="middle">{}</text>').format(
            f"{x(nm):g}", nm
        )
        for nm in (400, 450, 500, 550, 600, 650, 700)
    )
    lines = Markup("").join(
        Markup('<polyline class="curve" stroke-dasharray="{}" points="{}"/>').format(
            _DASHES[i % 4],
            " ".join(f"{x(w):.1f},{y(r):.1f}" for w, r in zip(nm, R, strict=True)),
        )
        for i, (_, _, nm, R) in enumerate(curves)
    )
    keys = Markup("").join(
        Markup(
            '<line class="curve" stroke-dasharray="{}" x1="56" x2="96" y1="{}" y2="{}"/>'
            '<rect x="102" y="{}" width="12" height="12" fill="{}"/>'
            '<text class="ticktext" x="120" y="{}">{}</text>'
        ).format(_DASHES[i % 4], 18 + 18 * i, 18 + 18 * i, 12 + 18 * i, hex_, 22 + 18 * i, name)
        for i, (name, hex_, _, _) in enumerate(curves)
    )
    return Markup(
        '<svg class="chart" viewBox="0 0 550 240" role="img" aria-label="{}">{}{}{}</svg>'
    ).format(
        "Reflectance in percent by wavelength, 380 to 730 nanometres: "
        + ", ".join(name for name, *_ in curves),
        grid,
        lines,
        keys,
    )


def plane_svg(points: Sequence[tuple[str, str, Sequence[float]]], reach: float = 0.0) -> Markup:
    """Colours (name, hex, Lab) in the a*b* plane, numbered as they are listed."""
    far = max([reach, 20.0, *(max(abs(lab[1]), abs(lab[2])) * 1.2 for _, _, lab in points)])

    def at(a: float, b: float) -> tuple[float, float]:
        return 150.0 + a / far * 130.0, 150.0 - b / far * 130.0

    dots = []
    for number, (name, hex_, lab) in enumerate(points, 1):
        x, y = at(lab[1], lab[2])
        dots.append(
            Markup(
                '<circle class="dot" cx="{:.1f}" cy="{:.1f}" r="9" fill="{}">'
                "<title>{}</title></circle>"
                '<text class="ticktext" x="{:.1f}" y="{:.1f}">{}</text>'
            ).format(x, y, hex_, name, x + 12, y + 4, number)
        )
    return Markup(
        '<svg class="plane" viewBox="0 0 300 300" role="img" aria-label="{}">'
        '<line class="axis" x1="10" x2="290" y1="150" y2="150"/>'
        '<line class="axis" y1="10" y2="290" x1="150" x2="150"/>'
        '<text class="ticktext" x="290" y="144" text-anchor="end">a* red</text>'
        '<text class="ticktext" x="10" y="144">green</text>'
        '<text class="ticktext" x="156" y="20">b* yellow</text>'
        '<text class="ticktext" x="156" y="290">blue</text>{}</svg>'
    ).format(
        "a*, b*: "
        + "; ".join(
            f"{n} {name} at {lab[1]:.0f}, {lab[2]:.0f}"
            for n, (name, _, lab) in enumerate(points, 1)
        ),
        Markup("").join(dots),
    )


def marked(text: str, spans: Sequence[tuple[int, int, str, str]]) -> Markup:
    """Text with its (start, end, kind, words) spans marked; where two overlap the first wins."""
    out = Markup("")
    here = 0
    for start, end, kind, words in sorted(spans, key=lambda s: (s[0], -s[1])):
        if start < here or end <= start:
            continue
        out += escape(text[here:start])
        out += Markup('<mark class="{}" title="{}">{}</mark>').format(kind, words, text[start:end])
        here = end
    return out + escape(text[here:])
