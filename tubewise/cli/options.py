"""Options that several commands share, said once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

Json = Annotated[bool, typer.Option("--json", help="Print JSON instead of words.")]
Catalogue = Annotated[
    Path | None,
    typer.Option(
        "--catalogue",
        "-c",
        metavar="FILE",
        help="Tubes (CSV or XLSX) that terms may name; else the store's.",
    ),
]
