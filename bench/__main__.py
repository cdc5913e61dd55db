"""`make bench`: one table, each row a ratio measured side by side in one run on this machine.

Each module named in ROWS has `rows()`, which yields `bench.row.Row`. `python -m bench fitting`
runs only the named ones.
"""

from __future__ import annotations

import sys
from importlib import import_module

from rich.console import Console
from rich.table import Table

ROWS = ("fitting", "palette", "recipes", "store", "chain", "web", "photographs")


def main(chosen: list[str]) -> None:
    """Run the benchmarks and print their table as each row comes in."""
    table = Table("what", "ours", "reference", "ratio", "to reach", "remark")
    for name in chosen or ROWS:
        for row in import_module(f"bench.{name}").rows():
            table.add_row(*row.cells)
            print(" | ".join(row.cells), flush=True)
    Console().print(table)


if __name__ == "__main__":
    main(sys.argv[1:])
