"""`tubewise mix`: predict a mixture."""

from __future__ import annotations

from typing import Annotated

import typer

from tubewise.cli.options import Catalogue, Json


def mix(
    terms: Annotated[
        list[str],
        typer.Argument(
            metavar="TERM=PARTS …",
            help="A pigment, a tube or water, and parts: PV19/gamma=1, or “2 PB29 + 1 PW6”",
        ),
    ],
    film: Annotated[
        str,
        typer.Option(help="opaque, thin or wash (on paper); else as the medium is laid"),
    ] = "",
    ground: Annotated[
        str, typer.Option(help="white, black or #rrggbb, seen through thin")
    ] = "white",
    light: Annotated[str, typer.Option(help="D65, D50, A, FL2, FL11 or LED-B3")] = "D65",
    observer: Annotated[str, typer.Option(help="2 or 10 degrees")] = "2",
    catalogue: Catalogue = None,
    as_json: Json = False,
) -> None:
    """Predict the colour of a mixture of pigments or tubes, in parts by volume."""
    from tubewise.cli import show
    from tubewise.cli.source import shelf_of
    from tubewise.colour.lights import LIGHTS
    from tubewise.errors import UserError
    from tubewise.paints import mixing
    from tubewise.tubes.parts_written import parts_in

    if light not in LIGHTS:
        raise UserError(f"the lights are {', '.join(LIGHTS)}", where=f"“{light}”")
    if observer not in ("2", "10"):
        raise UserError("the observers are 2 and 10 degrees", where=f"“{observer}”")
    pairs = [(p.term, p.parts) for p in parts_in(" + ".join(terms))]
    shelf = shelf_of([term for term, _ in pairs], catalogue)
    made = mixing.mix(
        [shelf.term(term) for term, _ in pairs],
        [parts for _, parts in pairs],
        film,
        ground,
        light,
        observer,
    )
    if as_json:
        show.print_json(made)
        return
    to = show.console()
    L, a, b = made.colour.lab
    show.line(to, show.patch(made.colour, to, 8), f"{made.words}  {made.colour.hex}")
    show.line(
        to,
        f"L* {L:.1f}  a* {a:.1f}  b* {b:.1f}, {light}/{observer}°; {made.basis}, "
        f"95 % within CIEDE2000 {made.uncertainty.delta_e00_95:.1f}; "
        f"confidence {made.confidence}",
    )
    for note in made.notes:
        show.line(to, note, indent=2)
    show.cautions(to, made.cautions)
