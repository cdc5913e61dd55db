"""How results look in a terminal: words always, swatches where the terminal can show them."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.console import Console
    from rich.text import Text

    from tubewise.advice.alike.difference import Difference
    from tubewise.colour.patch import Colour
    from tubewise.pigments.pigment import Caution

# Said beside cautions that are only named.
CAUTIONS_FIRST = "Label, safety data sheet and local rules come first; texts: --all."


def console() -> Console:
    """Standard output; without colour when it is a pipe or NO_COLOR is set."""
    from rich.console import Console

    class Terminal(Console):
        def on_broken_pipe(self) -> None:
            # The command as a whole ends well where nobody reads on, as with `| head`.
            raise BrokenPipeError

    return Terminal(highlight=False, soft_wrap=False, emoji=False)


def can_show(to: Console) -> bool:
    """Whether swatches would come out in colours near their own."""
    return to.is_terminal and to.color_system in ("256", "truecolor") and not to.no_color


def patch(colour: Colour, to: Console, width: int = 4) -> Text:
    """A swatch, or nothing where the terminal cannot show one: the words stand beside it."""
    from rich.text import Text

    if not can_show(to):
        return Text("")
    return Text(" " * width, style=f"on {colour.hex}").append(" ", style="default on default")


def line(to: Console, *pieces: object, indent: int = 0) -> None:
    """Print words and swatches as one paragraph, wrapped with a hanging indent."""
    from rich.padding import Padding
    from rich.text import Text

    text = Text()
    for piece in pieces:
        text.append_text(piece if isinstance(piece, Text) else Text(str(piece)))
    to.print(Padding(text, (0, 0, 0, indent)))


def heading(to: Console, words: str) -> None:
    """A heading with a blank line before it."""
    from rich.text import Text

    to.print()
    to.print(Text(words, style="bold"))


def difference(to: Console, d: Difference, *, numbers: bool = False) -> None:
    """One situation of a comparison: two touching swatches, then words, and `numbers` if asked."""
    bare = d.parts.replace(" ", "")
    parts = f" {d.parts}" if bare and bare not in d.situation else ""
    # The pair touches so that the eye can judge the edge between them.
    from rich.text import Text

    pair = Text("")
    if can_show(to):
        pair = Text("    ", style=f"on {d.a.hex}").append("    ", style=f"on {d.b.hex}")
        pair.append(" ", style="default on default")
    how_far = f"  (CIEDE2000 {d.delta_e00:.1f}, 95 % within {d.low:.1f} to {d.high:.1f})"
    line(
        to,
        pair,
        f"{d.situation}{parts}: {d.words}",
        Text(how_far if numbers else "", style="dim"),
        indent=2,
    )


def cautions(to: Console, found: Iterable[Caution]) -> None:
    """The pigments' cautions, each once, under one heading."""
    texts = dict.fromkeys(caution.text for caution in found)
    if texts:
        heading(to, "Cautions")
    for text in texts:
        line(to, text, indent=2)


def print_json(value: Any) -> None:
    """Print a result as JSON."""
    from tubewise.advice.plain import to_json

    print(to_json(value))


def compile_search() -> None:
    """Compile the recipe search where this computer has not done so yet, with a line to say so.

    The line goes to standard error: it is no part of any answer.
    """
    from tubewise.search.compiled import ready

    ready(lambda words: print(words, file=sys.stderr, flush=True))


@contextmanager
def progress(words: str, quiet: bool = False) -> Iterator[Callable[[int, int], None]]:
    """A progress bar on standard error for long work; nothing when nobody watches."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    to = Console(stderr=True)
    if quiet or not to.is_terminal:
        yield lambda done, total: None
        return
    with Progress(
        TextColumn(words), BarColumn(), MofNCompleteColumn(), console=to, transient=True
    ) as bar:
        task = bar.add_task(words, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
