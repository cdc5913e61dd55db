"""Pictures of printed sheets, as PNG: the cards for the counter and a palette, a mixing chart."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from tools.pictures.shrink import small_png
from tubewise.advice.cards.comparison import comparison as compared
from tubewise.advice.cards.mixing_chart import mixing_chart as crossed_paints
from tubewise.advice.palette.offer import offer_of
from tubewise.advice.palette.reach import widest_range
from tubewise.advice.recipes.wishes import Wishes
from tubewise.demo.workshop import folder
from tubewise.paints.shelf import Shelf
from tubewise.sheets import chart, compare, palette_card
from tubewise.tubes.catalogue import read_catalogue

# The date a sheet bears; a fixed one makes the picture the same every day.
DAY = date(2026, 11, 25)
WIDTH = 640


def comparison() -> bytes:
    """Three reds side by side, as a shop would pin them up."""
    card = compared(("PV19/gamma", "PR209", "PR122"), Shelf(()), ("PB29",))
    return small_png(compare.pages(card, format="png", on=DAY)[0], WIDTH, 590)


def mixing_chart() -> bytes:
    """Four paints crossed, with cells to paint."""
    crossed = crossed_paints(("PV19/gamma", "PB29", "PY3", "PG7"), Shelf(()), "PW6")
    return small_png(chart.pages(crossed, format="png", on=DAY)[0], WIDTH, 445)


def palette() -> bytes:
    """What six tubes of the demo's shop reach."""
    tubes = [t for t in read_catalogue(folder() / "catalogue.csv") if t.medium == "acrylic"]
    shelf = Shelf(tubes)
    widest = widest_range(offer_of(tubes, shelf, wishes=Wishes(single=True)), 6, shelf)
    return small_png(palette_card.pages(widest, format="png", on=DAY)[0], 520, 680)


SHEETS: dict[str, Callable[[], bytes]] = {
    "sheet-compare": comparison,
    "sheet-chart": mixing_chart,
    "sheet-palette": palette,
}
