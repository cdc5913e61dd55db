"""How recipes look in a terminal: what to mix first, and the rest on request."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tubewise.cli import show

if TYPE_CHECKING:
    from rich.console import Console

    from tubewise.advice.recipes.batch import Batch
    from tubewise.advice.recipes.results import Recipe, Recipes

# Beside the first recipe, so many others are told in a line each.
OTHERS = 3


def print_batch(many: Batch, to: Console) -> None:
    """Print one line for each target."""
    for line in many.lines:
        how = "" if line.proved_best else f"; up to CIEDE2000 {line.gap:.2f} might be gained"
        show.line(
            to,
            show.patch(line.target, to),
            show.patch(line.recipe.colour, to),
            f"{line.name}: {line.recipe.words}{how}",
        )


def print_recipes(
    answer: Recipes,
    to: Console,
    *,
    numbers: bool = False,
    everything: bool = False,
) -> None:
    """Print the target, the first recipe, and the others in a line each.

    With `numbers` how sure each is; with `everything` also how the
    search went, and how to mix and mend each of them.
    """
    from tubewise.advice.recipes.results import left_out_words
    from tubewise.pigments.permanence import own_cautions

    L, a, b = answer.target.lab
    lab = f", L* {L:.1f} a* {a:.1f} b* {b:.1f}" if numbers or everything else ""
    show.line(
        to, show.patch(answer.target, to, 8), f"{answer.target_name}: {answer.target.name}{lab}"
    )
    show.line(to, answer.words)
    for words in left_out_words(answer.left_out):
        show.line(to, words)
    if everything:
        show.line(to, _search_words(answer))
    shown = answer.recipes if everything else answer.recipes[: 1 + OTHERS]
    for number, recipe in enumerate(shown, 1):
        full = everything or number == 1
        if full or number == 2:
            show.line(to)
        print_recipe(number, recipe, to, full=full)
        if answer.quantities and full:
            show.line(to, answer.quantities[number - 1].words, indent=3)
        if numbers or everything:
            _print_numbers(recipe, to, answer.spectral)
        if everything:
            for correction in recipe.corrections:
                show.line(to, f"- {correction.words}", indent=3)
    more = len(answer.recipes) - len(shown)
    if not everything:
        others = f"{more} more, " if more > 0 else ""
        show.line(to)
        show.line(to, f"--all: {others}how to mend each by eye, and how sure; --numbers: how sure")
    # A caution that another recipe brings along is told with it, in a word.
    show.cautions(
        to, [c for r in (shown if everything else shown[:1]) for c in own_cautions(r.cautions)]
    )


def _search_words(answer: Recipes) -> str:
    found = answer.search
    how = "proved best"
    if not found.proved_best:
        how = f"not proved best; at most {found.gap:.2f} {found.measure} could be gained"
    return f"{found.subsets} sets of tubes considered: {how}"


def print_recipe(number: int, recipe: Recipe, to: Console, *, full: bool = True) -> None:
    """Print one recipe in a line and, if `full`, its tubes and how to mix them."""
    from tubewise.labels.phrasing import listing
    from tubewise.pigments.permanence import own_cautions

    kind = "" if recipe.kind == "best" else f"{recipe.kind}: "
    sure = f"{recipe.basis}, 95 % within CIEDE2000 {recipe.uncertainty.delta_e00_95:.1f}"
    show.line(to, f"{number}. ", show.patch(recipe.colour, to, 8), f"{kind}{recipe.words} ({sure})")
    if recipe.warning:
        show.line(to, recipe.warning, indent=3)
    kinds = dict.fromkeys(c.kind for c in own_cautions(recipe.cautions))
    if not full:
        if kinds:
            show.line(to, f"caution: {', '.join(kinds)}", indent=3)
        return
    show.line(to, f"of {listing([p.words for p in recipe.parts])}", indent=3)
    for step in recipe.steps:
        show.line(to, f"- {step}", indent=3)
    for words in recipe.beside:
        show.line(to, f"- {words}", indent=3)
    if kinds:
        show.line(to, f"cautions below: {', '.join(kinds)}", indent=3)


def _print_numbers(recipe: Recipe, to: Console, spectral: bool) -> None:
    """How sure a recipe is, how it lasts, what it costs, and what other lights do to it.

    Without a `spectral` target that is said to be assumed.
    """
    from tubewise.advice.words.permanence import permanence_text
    from tubewise.advice.words.price import unit_price_text

    price = unit_price_text(recipe.price_per_ml, recipe.currency)
    assumed = "" if spectral else " (assumed: the target has no spectrum)"
    show.line(
        to,
        f"lightfastness {permanence_text(recipe.lightfastness)}{'; ' if price else ''}{price}; "
        f"under other lights{assumed}: "
        + ", ".join(f"{k} {v:.1f}" for k, v in recipe.metamerism.items()),
        indent=3,
    )
    slips = recipe.sureness
    part = "" if slips.one_part is None else f"one part off moves it by {slips.one_part:.1f}, "
    if len(recipe.parts) > 1:
        show.line(
            to,
            f"{part}10 % in each part by up to {slips.ten_percent:.1f}, another batch by up to "
            f"{slips.other_batch:.1f}",
            indent=3,
        )
