"""`tubewise recipe`: parts for a wanted colour."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import All, ForSeats, Json, Make, Numbers, PurposeText, Without
from tubewise.cli.solving import MixQuestion, solved, solved_batch

if TYPE_CHECKING:
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
    staining: Annotated[
        bool, typer.Option("--staining", help="Only paints that stain the paper.")
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
    make: Make = ""
    for_seats: ForSeats = 0
    numbers: Numbers = False
    all_: All = False
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
            "staining": self.staining,
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
    from tubewise.advice.recipes.quantity import in_quantities, wanted
    from tubewise.cli import show
    from tubewise.cli.recipe_shown import print_recipes

    want = wanted(question.make, question.for_seats)
    show.compile_search()
    answer, shelf = solved(question.target, question, question.wishes, question.shop)
    answer = in_quantities(answer, want, shelf.tubes)
    if question.as_json:
        show.print_json(answer)
    else:
        print_recipes(answer, show.console(), numbers=question.numbers, everything=question.all_)


def _recipes_of_a_file(question: RecipeQuestion) -> None:
    from tubewise.cli import show
    from tubewise.cli.recipe_shown import print_batch
    from tubewise.errors import UserError

    if question.make or question.for_seats:
        raise UserError("amounts are worked out for one target at a time; leave out --make")

    show.compile_search()
    with show.progress("solving", quiet=question.as_json) as step:
        many = solved_batch(Path(question.target), question, question.wishes, step)
    if question.as_json:
        show.print_json(many)
    else:
        print_batch(many, show.console())
