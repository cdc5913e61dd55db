"""What was understood from a label: the pigments declared and the warnings, as plain results."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tubewise.pigments.ref import Ref

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Declared:
    """One pigment declared on a label.

    `code` is the Colour Index generic name in our spelling (`PB15:3`, `PBk9`, `NR9`); `form` the
    register's form or "" where the pigment has none; `constitution` the number printed with it,
    or "" if none was; `name` the register's first common name, or "" for an unknown code; `span`
    the half-open offsets of the code's own characters in the text that was read.
    `form_assumed` is true if the form is only the register's default and nothing printed
    settles it.
    """

    code: str
    form: str
    constitution: str
    name: str
    span: Span
    form_assumed: bool = False

    @property
    def ref(self) -> Ref:
        """`PV19/gamma`, or the bare code of a pigment without forms."""
        return Ref.of(self.code, self.form)


@dataclass(frozen=True, slots=True)
class LabelWarning:
    """Something to check on the tube.

    `kind` is a slug of `kinds.KINDS`; `message` says in a painter's words what is wrong and what
    to do; `span` holds half-open offsets into the label or, where `where` is "name", into the
    paint's name; it is None if nothing on the label can be pointed at. `suggestions` lists codes
    worth looking for on the tube, the likeliest first; they are never applied.
    """

    kind: str
    message: str
    span: Span | None
    where: Literal["label", "name"] = "label"
    suggestions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """A label's text, the pigments it declares in order of appearance, and the warnings."""

    text: str
    pigments: tuple[Declared, ...]
    warnings: tuple[LabelWarning, ...]

    @property
    def codes(self) -> tuple[str, ...]:
        """The declared codes, without forms."""
        return tuple(pigment.code for pigment in self.pigments)

    @property
    def refs(self) -> tuple[Ref, ...]:
        """The declared pigments as `PV19/gamma` or `PG7`."""
        return tuple(pigment.ref for pigment in self.pigments)

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of the warnings, in order."""
        return tuple(warning.kind for warning in self.warnings)
