"""`tubewise palette …`: which tubes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import From as OwnFrom
from tubewise.cli.options import Json, OnlyMedium, Seat, Shop
from tubewise.cli.question import answering

if TYPE_CHECKING:
    from tubewise.advice.palette.film import Film
    from tubewise.advice.palette.offer import Offer
    from tubewise.advice.recipes.target import Target
    from tubewise.advice.recipes.wishes import Wishes
    from tubewise.paints.shelf import Shelf
    from tubewise.tubes.tube import Tube

app = typer.Typer(
    help="Which tubes: for a lesson, a picture or the widest range; the next one; what is lost.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

From = Annotated[
    Path | None,
    typer.Option("--from", metavar="FILE", help="Tubes to choose from; else every pigment known."),
]
For = Annotated[
    Path | None,
    typer.Option(
        "--for", metavar="FILE", help="Colours that count: a column of targets, or a supply list."
    ),
]
Within = Annotated[float, typer.Option(help="CIEDE2000 that counts as reached.", min=0.2, max=20.0)]
How = Annotated[str, typer.Option(help="alone, white (at hand) or water (on paper).")]
Must = Annotated[
    list[str] | None,
    typer.Option(metavar="TUBE", help="This must be in it: a tube or a pigment; repeatable."),
]


@dataclass(frozen=True, kw_only=True)
class Wishing:
    """What kinds of tube may be chosen, and how the palette is used."""

    medium: OnlyMedium = ""
    how: How = ""
    lasting: Annotated[bool, typer.Option("--lasting", help="Only lightfast I or II.")] = False
    uncautioned: Annotated[
        bool, typer.Option("--uncautioned", help="No pigments with a caution of their own.")
    ] = False
    single: Annotated[bool, typer.Option("--single", help="Only single-pigment tubes.")] = False
    seat: Seat = ""
    catalogue: Shop = None
    as_json: Json = False

    @property
    def wishes(self) -> Wishes:
        """The same as the advice takes it."""
        from tubewise.advice.recipes.wishes import Wishes

        return Wishes(lasting=self.lasting, uncautioned=self.uncautioned, single=self.single)

    def tubes(self, path: Path, seat: str = "", *, owned: bool = False) -> list[Tube]:
        """The tubes of a file; of a `seat`'s box, where it holds several that are `owned`."""
        from tubewise.cli.source import tubes_from, tubes_of

        return tubes_from(path, seat, self.catalogue) if owned or seat else tubes_of(path)

    def offer(
        self, path: Path | None, seat: str = "", *, owned: bool = False
    ) -> tuple[Offer, Shelf]:
        """The kinds of paint of a file, or of the register; a box that is `owned` as it is."""
        from tubewise.advice.palette.offer import offer_of, offer_of_register
        from tubewise.advice.recipes.wishes import PLAIN
        from tubewise.cli.source import shelf_of
        from tubewise.paints.shelf import Shelf

        if path is None:
            shelf = Shelf()
            return offer_of_register(shelf, self.medium, self.wishes), shelf
        tubes = self.tubes(path, seat, owned=owned)
        shelf = shelf_of((), None, tubes)
        wishes = PLAIN if owned else self.wishes
        offer = offer_of(tubes, shelf, medium=self.medium, wishes=wishes, in_stock=not owned)
        return offer, shelf


def _targets(
    path: Path | None, shelf: Shelf, film: Film, tubes: list[Tube] | None = None
) -> tuple[Target, ...]:
    from tubewise.advice.palette.aims import read_aims

    return read_aims(path, shelf, tubes or [], film) if path is not None else ()


@dataclass(frozen=True, kw_only=True)
class RangeQuestion(Wishing):
    """What `tubewise palette range` is asked."""

    from_: From = None
    count: Annotated[
        int, typer.Option("--count", "-n", help="How many tubes; 0 for all of the file.", min=0)
    ] = 6
    must: Must = None
    budget: Annotated[float | None, typer.Option(help="For all tubes together.", min=0.0)] = None


def range_(question: RangeQuestion) -> None:
    """Choose the tubes that reach most, or with --count 0 say what those of a box reach."""
    from tubewise.advice.palette.reach import range_of, widest_range
    from tubewise.cli import palette_shown, show

    offer, shelf = question.offer(question.from_, question.seat, owned=question.count == 0)
    show.compile_search()
    if question.count == 0:
        answer = range_of(offer.kinds, shelf, offer.medium, question.how)
    else:
        answer = widest_range(
            offer,
            question.count,
            shelf,
            how=question.how,
            must=question.must or (),
            budget=question.budget,
        )
    if question.as_json:
        show.print_json(answer)
    else:
        palette_shown.print_range(answer, show.console())


@dataclass(frozen=True, kw_only=True)
class NextQuestion(Wishing):
    """What `tubewise palette next` is asked."""

    box: Annotated[Path, typer.Argument(metavar="BOX", help="The tubes there are.")]
    shop: Annotated[Path, typer.Option("--shop", metavar="FILE", help="The shop's catalogue.")]
    for_: For = None
    within: Within = 2.0
    budget: Annotated[float | None, typer.Option(help="What it may cost.", min=0.0)] = None


def next_(question: NextQuestion) -> None:
    """Say which one or two tubes of a shop add most to a box."""
    from tubewise.advice.palette.film import film_for
    from tubewise.advice.palette.next_tube import next_tube
    from tubewise.cli import palette_shown, show

    # Rows of a box that say little are completed by the shop, unless another catalogue is named.
    owner = replace(question, catalogue=question.catalogue or question.shop)
    box, shelf = owner.offer(question.box, question.seat, owned=True)
    shop, _ = question.offer(question.shop)
    film = film_for(box.medium or shop.medium, shelf, question.how)
    targets = _targets(question.for_, shelf, film)
    show.compile_search()
    answer = next_tube(
        box,
        shop,
        shelf,
        targets,
        how=question.how,
        within=question.within,
        budget=question.budget,
    )
    if question.as_json:
        show.print_json(answer)
    else:
        palette_shown.print_next(answer, show.console())


@dataclass(frozen=True, kw_only=True)
class WithoutQuestion(Wishing):
    """What `tubewise palette without` is asked."""

    tube: Annotated[str, typer.Argument(metavar="TUBE", help="The tube left at home.")]
    from_: OwnFrom = None
    for_: For = None
    within: Within = 2.0


def without_(question: WithoutQuestion) -> None:
    """Say what a box loses without one of its tubes."""
    from tubewise.advice.palette.film import film_for
    from tubewise.advice.palette.without import without
    from tubewise.cli import palette_shown, show

    offer, shelf = question.offer(question.from_, question.seat, owned=True)
    film = film_for(offer.medium, shelf, question.how)
    targets = _targets(question.for_, shelf, film)
    show.compile_search()
    answer = without(offer, question.tube, shelf, targets, how=question.how, within=question.within)
    if question.as_json:
        show.print_json(answer)
    else:
        palette_shown.print_without(answer, show.console())


@dataclass(frozen=True, kw_only=True)
class VersusQuestion(Wishing):
    """What `tubewise palette versus` is asked."""

    a: Annotated[Path, typer.Argument(metavar="A", help="One box.")]
    b: Annotated[Path, typer.Argument(metavar="B", help="The other.")]
    seat_b: Annotated[str, typer.Option(help="Whose box the other is, as --seat.")] = ""
    for_: For = None
    within: Within = 2.0


def versus_(question: VersusQuestion) -> None:
    """Hold two palettes against one another."""
    from tubewise.advice.palette.film import film_for
    from tubewise.advice.palette.versus import versus
    from tubewise.cli import palette_shown, show

    a, shelf = question.offer(question.a, question.seat, owned=True)
    b, _ = question.offer(question.b, question.seat_b, owned=True)
    film = film_for(a.medium or b.medium, shelf, question.how)
    targets = _targets(question.for_, shelf, film)
    show.compile_search()
    answer = versus(a, b, shelf, targets, how=question.how, within=question.within)
    if question.as_json:
        show.print_json(answer)
    else:
        palette_shown.print_versus(answer, show.console())


@dataclass(frozen=True, kw_only=True)
class LessonQuestion(Wishing):
    """What `tubewise palette lesson` is asked."""

    supply: Annotated[Path, typer.Argument(metavar="LIST", help="The lesson's supply list.")]
    from_: From = None
    within: Within = 2.0
    cheapest: Annotated[
        bool, typer.Option("--cheapest", help="Least money first; else fewest tubes first.")
    ] = False
    any_tube: Annotated[
        bool, typer.Option("--any", help="Mixed-pigment tubes too; a list asks for single ones.")
    ] = False
    must: Must = None
    without: Annotated[
        list[str] | None,
        typer.Option(metavar="TUBE", help="This must not: a tube or a pigment; repeatable."),
    ] = None
    budget: Annotated[float | None, typer.Option(help="For all tubes together.", min=0.0)] = None
    seconds: Annotated[float, typer.Option(help="How long to go on proving.", min=0.0)] = 60.0
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", metavar="FILE", help="Where to write the new list."),
    ] = None


def lesson_(question: LessonQuestion) -> None:
    """Choose the fewest or cheapest tubes for a lesson, and write its supply list anew."""
    from tubewise.advice.palette.lesson import LessonWishes, lesson, lesson_offer
    from tubewise.cli import palette_shown, show
    from tubewise.cli.source import shelf_of
    from tubewise.tubes.supply import read_supply_list, write_supply_list

    supply = read_supply_list(question.supply)
    tubes = question.tubes(question.from_, question.seat) if question.from_ else []
    shelf = shelf_of((), None, tubes)
    allowed = replace(
        question.wishes, single=not question.any_tube, must_not=tuple(question.without or ())
    )
    offer = lesson_offer(supply, tubes, shelf, medium=question.medium, wishes=allowed)
    wishes = LessonWishes(
        within=question.within,
        cheapest=question.cheapest,
        must=tuple(question.must or ()),
        budget=question.budget,
        seconds=question.seconds,
    )
    show.compile_search()
    answer = lesson(supply, offer, shelf, tubes, wishes)
    if question.out is not None:
        write_supply_list(question.out, answer.supply)
    if question.as_json:
        show.print_json(answer)
        return
    palette_shown.print_lesson(answer, show.console())
    if question.out is not None:
        print(f"Written: {question.out}")


@dataclass(frozen=True, kw_only=True)
class PictureQuestion(Wishing):
    """What `tubewise palette picture` is asked."""

    image: Annotated[Path, typer.Argument(metavar="IMAGE", help="A photograph or a painting.")]
    from_: From = None
    within: Annotated[
        float, typer.Option(help="CIEDE2000 that counts as reached.", min=0.5, max=20.0)
    ] = 5.0
    colours: Annotated[
        int, typer.Option(help="So many colours stand for the picture.", min=2, max=64)
    ] = 24
    must: Must = None
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", metavar="FILE", help="Before and after, side by side (JPEG)."),
    ] = None


def picture_(question: PictureQuestion) -> None:
    """Choose the fewest tubes for a picture, and show it in them."""
    from tubewise.advice.palette.picture import picture, side_by_side
    from tubewise.cli import palette_shown, show
    from tubewise.pictures.extra import need_photos
    from tubewise.pictures.opening import open_picture
    from tubewise.pictures.saving import jpeg
    from tubewise.tables.writing import write_whole

    need_photos()
    pixels = open_picture(question.image)
    offer, shelf = question.offer(question.from_, question.seat)
    show.compile_search()
    answer = picture(
        pixels,
        offer,
        shelf,
        within=question.within,
        count=question.colours,
        must=question.must or (),
    )
    if question.out is not None:
        write_whole(question.out, jpeg(side_by_side(answer)))
    if question.as_json:
        show.print_json(answer)
        return
    palette_shown.print_picture(answer, show.console())
    if question.out is not None:
        print(f"Written: {question.out}")


app.command("picture")(answering(PictureQuestion, picture_))
app.command("lesson")(answering(LessonQuestion, lesson_))
app.command("range")(answering(RangeQuestion, range_))
app.command("next")(answering(NextQuestion, next_))
app.command("without")(answering(WithoutQuestion, without_))
app.command("versus")(answering(VersusQuestion, versus_))
