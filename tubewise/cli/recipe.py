"""`tubewise recipe`: parts for a wanted colour."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Json, PurposeText, Without
from tubewise.cli.solving import MixQuestion, solved, solved_batch

if TYPE_CHECKING:
    from rich.console import Console

    from tubewise.advice.recipes.batch import Batch
    from tubewise.advice.recipes.results import Recipe, Recipes
    from tubewise.advice.recipes.wishes import Wishes
    from tubewise.pigments.handling import Wish as HandlingWish


@dataclass(frozen=True, kw_only=True)
class RecipeQuestion(MixQuestion):
    """What `tubewise recipe` is asked."""

    target: Annotated[
        str,
        typer.Argument(
            metavar="TARGET",
            help="A tube, lab:L,a,b, #rrggbb, munsell:5R 4/12, a spectrum file, or a "
            "spreadsheet with a column of targets.",
        ),
    ]
    light: Annotated[
        str,
        typer.Option(help="Light that counts: D65, D50, A, FL2, FL11, LED-B3, all or spectrum."),
    ] = "D65"
    fewer: Annotated[bool, typer.Option("--fewer", help="Prefer fewer paints.")] = False
    cheaper: Annotated[bool, typer.Option("--cheaper", help="Prefer cheaper tubes.")] = False
    lasting: Annotated[bool, typer.Option("--lasting", help="Only lightfast I or II.")] = False
    uncautioned: Annotated[
        bool, typer.Option("--uncautioned", help="No pigments with a caution of their own.")
    ] = False
    single: Annotated[bool, typer.Option("--single", help="Only single-pigment tubes.")] = False
    must: Annotated[
        list[str] | None,
        typer.Option(
            metavar="TUBE",
            help="This must be in it: a tube's id or name, or a pigment; repeatable.",
        ),
    ] = None
    without: Without = None
    for_: PurposeText = ""
    granulating: Annotated[
        bool, typer.Option("--granulating", help="Only paints that granulate, in a wash.")
    ] = False
    non_staining: Annotated[
        bool, typer.Option("--non-staining", help="Only paints that hardly stain.")
    ] = False
    fast_drying: Annotated[
        bool, typer.Option("--fast-drying", help="Only pigments that dry fast in oil.")
    ] = False
    result: Annotated[str, typer.Option(help="transparent or opaque pigments only.")] = ""
    film: Annotated[str, typer.Option(help="opaque or thin")] = "opaque"
    ground: Annotated[str, typer.Option(help="white, black or #rrggbb, if thin")] = "white"
    smallest_share: Annotated[
        float, typer.Option(help="Least share of a paint a brush can pick up.", min=0.0, max=0.5)
    ] = 0.0
    shop: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Catalogue to ask for a tube that would help."),
    ] = None
    as_json: Json = False

    @property
    def wishes(self) -> Wishes:
        """What else is asked of a recipe than to come near."""
        from tubewise.advice.recipes.wishes import Wishes
        from tubewise.paints.appearance import film_of
        from tubewise.pigments.purpose import purpose_typed

        return Wishes(
            light=self.light,
            fewer=self.fewer,
            cheaper=self.cheaper,
            lasting=self.lasting,
            uncautioned=self.uncautioned,
            single=self.single,
            must=tuple(self.must or ()),
            must_not=tuple(self.without or ()),
            result=self.result,
            film=film_of(self.film),
            ground=self.ground,
            smallest_share=self.smallest_share,
            purpose=purpose_typed(self.for_),
            handling=self._handling,
        )

    @property
    def _handling(self) -> tuple[HandlingWish, ...]:
        wished: dict[HandlingWish, bool] = {
            "granulating": self.granulating,
            "non-staining": self.non_staining,
            "fast-drying": self.fast_drying,
        }
        return tuple(wish for wish, yes in wished.items() if yes)


def recipe(question: RecipeQuestion) -> None:
    """Find the parts that mix a colour from the tubes at hand."""
    from tubewise.advice.recipes.batch import is_batch
    from tubewise.advice.recipes.target import is_spectrum_file

    if is_spectrum_file(question.target) and is_batch(Path(question.target)):
        _recipes_of_a_file(question)
    else:
        _recipes(question)


def _recipes(question: RecipeQuestion) -> None:
    from tubewise.cli import show

    show.compile_search()
    answer, _ = solved(question.target, question, question.wishes, question.shop)
    if question.as_json:
        show.print_json(answer)
    else:
        print_recipes(answer, show.console())


def _recipes_of_a_file(question: RecipeQuestion) -> None:
    from tubewise.cli import show

    show.compile_search()
    with show.progress("solving", quiet=question.as_json) as step:
        many = solved_batch(Path(question.target), question, question.wishes, step)
    if question.as_json:
        show.print_json(many)
    else:
        print_batch(many, show.console())


def print_batch(many: Batch, to: Console) -> None:
    """Print one line for each target."""
    from tubewise.cli import show

    for line in many.lines:
        how = "" if line.proved_best else f"; up to CIEDE2000 {line.gap:.2f} might be gained"
        show.line(
            to,
            show.patch(line.target, to),
            show.patch(line.recipe.colour, to),
            f"{line.name}: {line.recipe.words}{how}",
        )


def print_recipes(answer: Recipes, to: Console) -> None:
    """Print the target, how the search went, and each recipe."""
    from tubewise.advice.recipes.results import left_out_words
    from tubewise.cli import show

    L, a, b = answer.target.lab
    show.line(
        to,
        show.patch(answer.target, to, 8),
        f"{answer.target_name}: {answer.target.name}, L* {L:.1f} a* {a:.1f} b* {b:.1f}",
    )
    show.line(to, answer.words)
    for words in left_out_words(answer.left_out):
        show.line(to, words)
    how = (
        "proved best"
        if answer.search.proved_best
        else f"not proved best; at most {answer.search.gap:.2f} {answer.search.measure} "
        "could be gained"
    )
    show.line(to, f"{answer.search.subsets} sets of tubes considered: {how}")
    for number, recipe in enumerate(answer.recipes, 1):
        show.line(to)
        print_recipe(number, recipe, to, answer.spectral)
    cautions = dict.fromkeys(c.text for r in answer.recipes for c in r.cautions)
    if cautions:
        show.heading(to, "Cautions")
    for text in cautions:
        show.line(to, text, indent=2)


def print_recipe(number: int, recipe: Recipe, to: Console, spectral: bool = True) -> None:
    """Print one recipe: parts, colour, how sure, and how to mix it.

    Without a `spectral` target, what it does under other lights is said to be assumed.
    """
    from tubewise.advice.words.permanence import permanence_text
    from tubewise.advice.words.price import unit_price_text
    from tubewise.cli import show
    from tubewise.labels.phrasing import listing
    from tubewise.pigments.permanence import own_cautions

    kind = "" if recipe.kind == "best" else f"{recipe.kind}: "
    price = unit_price_text(recipe.price_per_ml, recipe.currency)
    assumed = "" if spectral else " (assumed: the target has no spectrum)"
    show.line(to, f"{number}. ", show.patch(recipe.colour, to, 8), f"{kind}{recipe.words}")
    if recipe.warning:
        show.line(to, recipe.warning, indent=3)
    show.line(to, f"of {listing([p.words for p in recipe.parts])}", indent=3)
    show.line(
        to,
        f"{recipe.basis}, 95 % within CIEDE2000 {recipe.uncertainty.delta_e00_95:.1f}; "
        f"lightfastness {permanence_text(recipe.lightfastness)}{'; ' if price else ''}{price}; "
        "under other lights"
        f"{assumed}: " + ", ".join(f"{k} {v:.1f}" for k, v in recipe.metamerism.items()),
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
    kinds = dict.fromkeys(c.kind for c in own_cautions(recipe.cautions))
    if kinds:
        show.line(to, f"cautions below: {', '.join(kinds)}", indent=3)
    for step in recipe.steps:
        show.line(to, f"- {step}", indent=3)
    for words in recipe.beside:
        show.line(to, f"- {words}", indent=3)
    for correction in recipe.corrections:
        show.line(to, f"- {correction.words}", indent=3)
