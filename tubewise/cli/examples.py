"""An example for each command, which its help ends with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import click
import typer

EXAMPLES: Mapping[str, str] = {
    "show": 'tubewise show "permanent rose"',
    "label": 'tubewise label "Permanent Rose PV19, 60 ml"',
    "mix": 'tubewise mix "2 PB29 + 1 PW6"',
    "compare": "tubewise compare PV19/gamma PR122 --with PB29",
    "layers": "tubewise layers acrylic oil",
    "standin": 'tubewise standin "cobalt blue" --from shop.csv --for sale',
    "standins": "tubewise standins --all --out standins.csv",
    "recipe": 'tubewise recipe "munsell:5P 4/8" --from boxes.csv --seat 3',
    "palette picture": "tubewise palette picture heath.jpg --from shop.csv",
    "palette lesson": "tubewise palette lesson supply.csv --from shop.csv",
    "palette range": "tubewise palette range --from shop.csv --count 6",
    "palette next": "tubewise palette next boxes.csv --seat 3 --shop shop.csv",
    "palette without": 'tubewise palette without "cobalt blue" --from boxes.csv --seat 3',
    "palette versus": "tubewise palette versus mine.csv yours.csv",
    "check": "tubewise check supply.csv --boxes boxes.csv --from shop.csv",
    "box": "tubewise box --photos backs --seat 3 --out boxes.csv",
    "measure": "tubewise measure readings.csv --tube my-rose",
    "sheet supply": "tubewise sheet supply supply.csv",
    "sheet class": "tubewise sheet class supply.csv --boxes boxes.csv",
    "sheet compare": "tubewise sheet compare PV19/gamma PR122",
    "sheet recipe": 'tubewise sheet recipe "#6d4a7c" --from boxes.csv --seat 3',
    "sheet chart": "tubewise sheet chart PY3 PV19/gamma PB15:3",
    "sheet ladder": "tubewise sheet ladder PV23 PB29",
    "sheet labels": "tubewise sheet labels --from shop.csv",
    "sheet palette": "tubewise sheet palette --from shop.csv --count 6",
    "swatch": "tubewise swatch daubs.jpg",
    "names": "tubewise names --from shop.csv",
    "find": "tubewise find --code PV19 --medium oil --in-stock",
    "import": 'tubewise import export.xlsx --map "Bezeichnung=name"',
    "store check": "tubewise store check",
    "store backup": "tubewise store backup",
    "store restore": "tubewise store restore",
    "store mend": "tubewise store mend",
    "demo": "tubewise demo --workshop watercolour",
    "serve": "tubewise serve --open",
}


def commands(
    group: click.Command, path: tuple[str, ...] = ()
) -> Iterator[tuple[str, click.Command]]:
    """Every command below a group, by the words that call it."""
    if isinstance(group, click.Group):
        for name, command in group.commands.items():
            yield from commands(command, (*path, name))
    else:
        yield " ".join(path), group


def with_examples(app: typer.Typer) -> click.Command:
    """The command line of an app, each command's help with its example at the end."""
    whole = typer.main.get_command(app)
    for name, command in commands(whole):
        if name in EXAMPLES:
            command.epilog = f"Example: {EXAMPLES[name]}"
    return whole
