"""First answers for forty everyday colours, in three media, from the demo's shops.

`python -m tools.everyday` writes docs/everyday.md. The colours are from memory, as a painter would
name them; what is mixed is modelled. The page is there to be read by a painter.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.results import Recipes, parts_text
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.demo.workshop import folder
from tubewise.paints.shelf import Shelf
from tubewise.search.compiled import ready
from tubewise.tubes.catalogue import read_catalogue
from tubewise.tubes.tube import Tube

DOCS = Path(__file__).parents[1] / "docs"
# CIELAB under D65, from memory.
COLOURS: dict[str, tuple[float, float, float]] = {
    "sky at noon": (66, -8, -34),
    "sky at the horizon": (84, -4, -10),
    "evening sky, rose": (76, 22, 10),
    "evening sky, orange": (74, 26, 46),
    "storm cloud": (48, -1, -7),
    "lit cloud": (93, 0, 5),
    "deep sea": (34, -10, -28),
    "shallow sea": (68, -26, -12),
    "wet sand": (52, 6, 20),
    "dry sand": (78, 4, 22),
    "grass in sun": (62, -28, 46),
    "grass in shade": (38, -18, 20),
    "spring leaf": (72, -30, 60),
    "olive leaf": (50, -8, 24),
    "fir": (30, -12, 10),
    "moss": (48, -10, 38),
    "ivy": (34, -18, 18),
    "autumn leaf": (52, 34, 46),
    "bark": (38, 6, 12),
    "wet bark": (24, 4, 6),
    "brick": (46, 32, 28),
    "roof tile": (52, 30, 34),
    "slate": (42, -2, -6),
    "limestone": (80, 1, 12),
    "granite": (60, 0, 2),
    "rust": (42, 28, 34),
    "fair skin, lit": (78, 12, 18),
    "fair skin in shade": (58, 14, 16),
    "brown skin, lit": (54, 16, 24),
    "brown skin in shade": (32, 12, 14),
    "dark skin, lit": (36, 12, 16),
    "lips": (52, 32, 14),
    "lemon": (84, -6, 72),
    "orange fruit": (66, 40, 66),
    "tomato": (46, 54, 38),
    "plum": (28, 16, -8),
    "lavender": (58, 16, -26),
    "heather": (52, 28, -14),
    "copper": (54, 20, 32),
    "warm black": (18, 2, 3),
}


def shops() -> Iterator[tuple[str, tuple[Tube, ...]]]:
    """The three media, and the single-pigment tubes in stock of each."""
    acrylic = read_catalogue(folder() / "catalogue.csv")
    water = read_catalogue(folder("watercolour") / "catalogue.csv")
    for medium, tubes in (("acrylic", acrylic), ("oil", acrylic), ("watercolour", water)):
        yield medium, tuple(t for t in tubes if t.medium == medium and t.stock != 0)


def first(medium: str, tubes: tuple[Tube, ...], lab: tuple[float, float, float]) -> Recipes:
    """The recipes of single pigments for a colour."""
    shelf = Shelf(tubes)
    at_hand = AtHand(tubes=tubes, shelf=shelf, medium=medium, shop=())
    wanted = target(f"lab:{lab[0]},{lab[1]},{lab[2]}", shelf)
    return recipes_from(wanted, at_hand, 4, 16, Wishes(single=True))


def rows() -> Iterator[str]:
    """A row for each colour: its first answer in each medium."""
    answers: dict[str, list[str]] = {name: [] for name in COLOURS}
    for medium, tubes in shops():
        for name, lab in COLOURS.items():
            answer = first(medium, tubes, lab).recipes[0]
            sure = answer.uncertainty.delta_e00_95
            words = f"{parts_text(answer.parts)} ({answer.delta_e00:.1f}; 95 % {sure:.0f})"
            answers[name].append(words)
            print(f"{medium}: {name}: {words}", flush=True)
    for name, cells in answers.items():
        numbers = ", ".join(f"{v:g}" for v in COLOURS[name])
        yield f"| {name} | {numbers} | " + " | ".join(cells) + " |"


def main() -> None:
    """Write the page."""
    ready()
    head = ["| colour | CIELAB | acrylic | oil | watercolour |", "| --- " * 5 + "|"]
    page = f"""# First answers for everyday colours

Forty colours as a painter names them (CIELAB from memory), mixed from the single-pigment tubes in
stock in the demo's shops; watercolour with water, on white paper. In brackets CIEDE2000 from the
colour, *modelled*, and the radius of its 95 % interval. Written by `python -m tools.everyday`.

{chr(10).join([*head, *rows()])}

What a painter would still object to: burnt umber in a clean sea green, where the wash finds it
nearest; Prussian blue for a warm black, which no paint here reaches; nickel titanate yellow and
other seldom tubes where nothing usual comes as near. Toxic paints, complementaries that dull each
other and parts that nobody counts no longer come first: see
[the rules](advice.md#6-mixtures-somebody-would-make).
"""
    (DOCS / "everyday.md").write_text(page, encoding="utf-8")


if __name__ == "__main__":
    main()
