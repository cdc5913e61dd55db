"""What a target means that was typed, picked or pasted on a page."""

from __future__ import annotations

import tempfile
from pathlib import Path

from tubewise.advice.recipes.target import Target, of_paint, of_tube, read_spectrum, target
from tubewise.colour.lab import lab_from_reflectance
from tubewise.errors import UserError
from tubewise.web.holdings import Holdings
from tubewise.web.questions import SPECTRUM_OF, as_pasted


def target_of(holdings: Holdings, text: str) -> Target:
    """What a typed target means. Unlike the command line, no file is ever opened for it."""
    text = text.strip()
    if text.startswith(("lab:", "#", "munsell:")):
        return holdings.remember(("target", text), lambda: target(text, holdings.shelf))
    if text.startswith(SPECTRUM_OF):
        return holdings.remember(("target", text), lambda: _measured(text))
    tube = holdings.shelf.tubes.get(text)
    if tube is not None:
        return holdings.remember(("target", text), lambda: of_tube(tube, holdings.shelf))
    return of_paint(holdings.shelf.term(text))


def _measured(text: str) -> Target:
    """A pasted spectrum, two columns of nanometres and reflectance, as a target."""
    with tempfile.TemporaryDirectory(prefix="tubewise-") as folder:
        path = Path(folder) / "spectrum.csv"
        path.write_text(as_pasted(text), encoding="utf-8")
        try:
            R = read_spectrum(path)
        except UserError as error:
            where = error.where.replace(str(path), path.name).replace(path.name, "the spectrum")
            raise UserError(error.message, where=where) from None
    return Target("the measured spectrum", lab_from_reflectance(R), R, True)
