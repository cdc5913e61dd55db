"""`tubewise names`: names that mislead."""

from __future__ import annotations

from tubewise.cli.options import Catalogue, Json


def names(catalogue: Catalogue = None, as_json: Json = False) -> None:
    """List the names in a catalogue that mislead."""
    from tubewise.advice.alike.names import names as misleading
    from tubewise.cli import show
    from tubewise.cli.source import catalogue_of
    from tubewise.errors import UserError

    tubes = catalogue_of(catalogue)
    if not tubes:
        raise UserError("no tubes: give a file with --catalogue, or import one first")
    answer = misleading(tubes)
    if as_json:
        show.print_json(answer)
        return
    to = show.console()
    show.heading(to, "One name, different pigments")
    for name in answer.same_name:
        show.line(to, f"{name.words} ({name.medium})" if name.medium else name.words, indent=2)
    show.heading(to, "The same pigments, different names")
    for kin in answer.same_pigments:
        show.line(to, f"{kin.words} ({kin.medium})" if kin.medium else kin.words, indent=2)
    show.heading(to, "Names that promise a pigment that is not there")
    for hue in answer.hue_names:
        show.line(to, f"{hue.tube.title}: {hue.words}", indent=2)
