"""A label as it answers a person: its pigments with what is known of them, and its warnings."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise import labels
from tubewise.labels import Declared, LabelWarning, Span
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.pigments.register import load
from tubewise.pigments.terms import BINDERS


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelPigment:
    """One pigment of a label; `code` to `form_assumed` as in `labels.Declared`.

    `called` is the form's name where the label shows one, else the pigment's; `opacity` and
    `lightfastness` (category by binder) and the `cautions` are the register's, empty where it does
    not list the code.
    """

    code: str
    form: str
    constitution: str
    name: str
    span: Span
    form_assumed: bool
    called: str
    opacity: str
    lightfastness: dict[str, str]
    cautions: tuple[str, ...]

    @property
    def ref(self) -> str:
        """`PV19/gamma`, or the bare code of a pigment without forms."""
        return f"{self.code}/{self.form}" if self.form else self.code


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelAnswer:
    """What was read, in `text` and the paint's `name`; spans point into one of them."""

    text: str
    name: str
    pigments: tuple[LabelPigment, ...]
    warnings: tuple[LabelWarning, ...]

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions of all pigments, each once."""
        return tuple(dict.fromkeys(words for p in self.pigments for words in p.cautions))

    def pointed_at(self, warning: LabelWarning) -> str:
        """The very letters that a warning points at, or "" where it points at none."""
        text = self.name if warning.where == "name" else self.text
        return text[slice(*warning.span)] if warning.span else ""


def read_label(text: str, name: str = "") -> LabelAnswer:
    """Read what a tube's label says, and check the paint's name against it."""
    reading = labels.read(text, name=name)
    return LabelAnswer(
        text=text,
        name=name,
        pigments=tuple(map(_pigment, reading.pigments)),
        warnings=reading.warnings,
    )


def _pigment(declared: Declared) -> LabelPigment:
    pigment = load().get(declared.code)
    form = pigment.form(declared.form) if pigment and declared.form else None
    shown = form.note if form and not declared.form_assumed else ""
    known = pigment is not None
    return LabelPigment(
        code=declared.code,
        form=declared.form,
        constitution=declared.constitution,
        name=declared.name,
        span=declared.span,
        form_assumed=declared.form_assumed,
        called=shown or declared.name,
        opacity=(form.opacity if form else "") or (pigment.opacity if pigment else ""),
        lightfastness={b: lightfastness((declared.code,), b) for b in BINDERS} if known else {},
        cautions=tuple(c.text for c in cautions((declared.ref,))),
    )
