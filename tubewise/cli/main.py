"""The command `tubewise`: its commands, and what is printed when something goes wrong."""

from __future__ import annotations

import io
import os
import sys

import typer
import typer.core

from tubewise.cli import (
    about,
    box,
    check,
    compare,
    demo,
    find,
    imports,
    label,
    layers,
    measure,
    measure_question,
    mix,
    names,
    palette,
    recipe,
    serve,
    sheet,
    standin,
    standins,
    store,
    swatch,
)
from tubewise.cli.examples import with_examples
from tubewise.cli.question import answering
from tubewise.errors import UserError

app = typer.Typer(
    name="tubewise",
    help="Pigment by pigment: what is in a tube, what it mixes to, whether a box will do.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)

app.command("show")(about.about)
app.command("label")(label.label)
app.command("mix")(mix.mix)
app.command("compare")(answering(compare.CompareQuestion, compare.compare))
app.command("layers")(layers.layers)
app.command("standin")(answering(standin.StandInQuestion, standin.standin))
app.command("standins")(answering(standins.StandInsQuestion, standins.standins))
app.command("recipe")(answering(recipe.RecipeQuestion, recipe.recipe))
app.add_typer(palette.app, name="palette")
app.command("check")(answering(check.CheckQuestion, check.check))
app.command("box")(answering(box.BoxQuestion, box.box))
app.command("measure")(answering(measure_question.MeasureQuestion, measure.measure))
app.add_typer(sheet.app, name="sheet")
app.command("swatch")(answering(swatch.SwatchQuestion, swatch.swatch))
app.command("names")(names.names)
app.command("find")(answering(find.FindQuestion, find.find))
app.command("import")(imports.import_catalogue)
app.add_typer(store.app, name="store")
app.command("demo")(demo.demo)
app.command("serve")(serve.serve)

# With rich installed, typer escapes the brackets of `[default: 4]` even in the plain help that we
# print, where nobody takes the escapes away again.
typer.core.HAS_RICH = False

BAD_INPUT = 2
OUR_FAULT = 70


def main() -> None:
    """Run the command line; bad input ends with one message and exit status 2."""
    for stream in (sys.stdout, sys.stderr):
        # A terminal that cannot write ö or ✓ gets a question mark, not a fault.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        with_examples(app)()
    except UserError as error:
        print(f"tubewise: {error}", file=sys.stderr)
        sys.exit(BAD_INPUT)
    except BrokenPipeError:
        # The reader of our output has gone, as with `| head`; nobody is left to tell.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except Exception as error:
        if os.environ.get("TUBEWISE_DEBUG"):
            raise
        print(
            f"tubewise: a fault of ours, not of your input: {type(error).__name__}: {error}\n"
            "  Nothing was changed. Please report it with the command you typed; "
            "TUBEWISE_DEBUG=1 shows where it happened.",
            file=sys.stderr,
        )
        sys.exit(OUR_FAULT)
