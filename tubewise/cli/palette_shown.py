"""How the answers about palettes look in a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tubewise.cli import show

if TYPE_CHECKING:
    from rich.console import Console

    from tubewise.advice.palette.lesson import Lesson
    from tubewise.advice.palette.next_tube import NextTube
    from tubewise.advice.palette.picture import Picture
    from tubewise.advice.palette.reach import Range
    from tubewise.advice.palette.targets import Nearest
    from tubewise.advice.palette.versus import Versus
    from tubewise.advice.palette.without import Without


def print_range(answer: Range, to: Console) -> None:
    """Print a palette, what each tube is good for, and what is missing."""
    from tubewise.advice.words.price import price_text

    show.line(to, answer.words)
    most = answer.ceiling / max(answer.volume, 1.0)
    how = f"not proved the widest: no choice reaches more than {most:.2f} times as much"
    if answer.proved:
        how = "every choice was tried"
    show.line(to, f"volume known to {answer.error:.1%}; {how}")
    for member in answer.tubes:
        good = f", for {member.good_for}" if member.good_for else ""
        show.line(to)
        show.line(to, show.patch(member.tube.colour, to, 8), member.tube.words)
        show.line(to, f"without it {member.loses:.0%} would be gone{good}", indent=3)
    show.line(to)
    if answer.price is not None:
        show.line(to, f"together {price_text(answer.price, answer.currency)}")
    if answer.shape.missing:
        show.line(to, f"missing: {'; '.join(answer.shape.missing)}")
    if answer.more is not None:
        good = f", for {answer.more.good_for}" if answer.more.good_for else ""
        show.line(to, f"one more: {answer.more.tube.words}, {answer.more.gains:.0%} more{good}")


def print_lesson(answer: Lesson, to: Console) -> None:
    """Print the tubes of a lesson, what each is for, and how each colour is mixed."""
    show.line(to, answer.words)
    for choice in answer.tubes:
        show.line(to)
        show.line(to, show.patch(choice.tube.colour, to, 8), choice.tube.words)
        facts = (
            f"for {', '.join(choice.needed_for)}" if choice.needed_for else "",
            f"instead: {' or '.join(choice.standins)}" if choice.standins else "",
            f"beware: {'; '.join(choice.beware)}" if choice.beware else "",
        )
        for fact in filter(None, facts):
            show.line(to, fact, indent=3)
    show.heading(to, "The lesson's colours")
    print_targets((*answer.recipes, *answer.beyond), to)


def print_picture(answer: Picture, to: Console) -> None:
    """Print the tubes of a picture, and how each of its colours is mixed."""
    show.line(to, answer.words)
    show.line(
        to,
        f"over the picture CIEDE2000 {answer.mean:.1f} on average; 95 % of it nearer than "
        f"{answer.worst:.1f}",
    )
    for tube in answer.tubes:
        show.line(to, show.patch(tube.colour, to), tube.words, indent=2)
    show.heading(to, "The picture's colours, the most noticed first")
    print_targets((*answer.recipes, *answer.beyond), to)


def print_next(answer: NextTube, to: Console) -> None:
    """Print what to buy next."""
    if not answer.singles:
        show.line(to, answer.words)
    for number, single in enumerate(answer.singles, 1):
        show.line(to, f"{number}. ", show.patch(single.tubes[0].colour, to, 8), single.words)
    if answer.for_money is not None:
        show.line(to)
        show.line(to, f"most for its price: {answer.for_money.words}")
    if answer.pair is not None:
        show.line(to)
        show.line(to, f"the best two, among the {answer.paired} most helpful: {answer.pair.words}")


def print_without(answer: Without, to: Console) -> None:
    """Print what is lost."""
    show.line(to, show.patch(answer.tube.colour, to, 8), answer.words)
    for loss in answer.targets:
        if loss.lost or loss.after.delta_e00 > loss.before.delta_e00 + 0.05:
            show.line(
                to,
                show.patch(loss.before.target, to),
                show.patch(loss.after.colour, to),
                f"{loss.before.name}: from {loss.before.delta_e00:.1f} to "
                f"{loss.after.delta_e00:.1f} CIEDE2000; {loss.after.words}",
                indent=2,
            )


def print_versus(answer: Versus, to: Console) -> None:
    """Print two palettes against one another."""
    show.line(to, answer.words)
    show.line(to, f"both reach {answer.shared:,.0f} cubic units of CIELAB")
    for name, side in (("first", answer.a), ("second", answer.b)):
        show.heading(to, f"The {name}: {side.volume:,.0f}, {side.only_here:,.0f} of it alone")
        for tube in side.tubes:
            show.line(to, show.patch(tube.colour, to), tube.words, indent=2)
        print_targets(side.targets, to)


def print_targets(targets: tuple[Nearest, ...], to: Console) -> None:
    """Print targets with the nearest mixtures."""
    for colour in targets:
        sign = "reached" if colour.reached else "missed"
        show.line(
            to,
            show.patch(colour.target, to),
            show.patch(colour.colour, to),
            f"{colour.name}: {sign}, CIEDE2000 {colour.delta_e00:.1f}; {colour.words}",
            indent=2,
        )
