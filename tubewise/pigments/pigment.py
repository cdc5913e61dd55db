"""One pigment and what is known of it: forms, cautions, notes, permanence."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.pigments.binders import rated_as
from tubewise.pigments.ref import Ref
from tubewise.pigments.terms import BINDERS, NOT_RATED
from tubewise.pigments.words import find_phrases, fold, phrase_key


@dataclass(frozen=True, slots=True)
class Form:
    """A crystal phase or shade that a code covers and that looks different from its other forms.

    `label_words` are printed words that reveal it; `hue_words` are the hues its paint may have.
    """

    name: str
    default: bool
    label_words: tuple[str, ...]
    hue_words: tuple[str, ...]
    opacity: str
    note: str
    source: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A usual health caution. It defers to the label, the safety data sheet and local rules.

    `applies` says when it matters most (`APPLIES`); `form` is empty when it holds for every form.
    """

    kind: str
    text: str
    applies: tuple[str, ...]
    source: str
    form: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """A remark about permanence or behaviour, of a kind in `NOTE_KINDS`."""

    kind: str
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Pigment:
    """One Colour Index Generic Name and what is known of it.

    `needs` tells what the bare code leaves open: `suffix` (the crystal or the metal, as in PB15:3),
    `form` (as in PV19/gamma), or nothing. `assumed` is the code a bare one usually stands for.
    `ratings` are the lightfastness categories in the order of `BINDERS`.
    """

    code: str
    parent: str
    constitutions: tuple[str, ...]
    chemical: str
    names: tuple[str, ...]
    chem_class: str
    hue: str
    opacity: str
    needs: str
    assumed: str
    forms: tuple[Form, ...]
    ratings: tuple[str, str, str, str]
    cautions: tuple[Caution, ...]
    notes: tuple[Note, ...]
    sources: tuple[str, ...]

    @property
    def refs(self) -> tuple[Ref, ...]:
        """Every colour the code covers: `PB29/red-shade` and its siblings, or `PB28` alone."""
        return tuple(Ref.of(self.code, form.name) for form in self.forms) or (Ref(self.code),)

    @property
    def default_form(self) -> Form | None:
        """The form assumed when nothing tells, or None when the code covers one colour."""
        return next((form for form in self.forms if form.default), None)

    def form(self, name: str) -> Form | None:
        """Return the form called `name`, or None."""
        wanted = fold(name.strip())
        return next((form for form in self.forms if form.name == wanted), None)

    def form_revealed_by(self, text: str) -> Form | None:
        """Return the form that printed words reveal, the longest phrase winning, or None."""
        if not self.forms:
            return None
        words = {phrase_key(word): form for form in self.forms for word in form.label_words}
        found = list(find_phrases(text, words))
        if not found:
            return None
        return max(found, key=lambda hit: hit[1][1] - hit[1][0])[0]

    def lightfastness(self, binder: str) -> str:
        """Return the ASTM category "I" to "V" in `binder`, by any of its names, or "not rated".

        "not rated" also for a binder that the standards do not cover: only a film of the same kind
        lends its rating (data/binders.csv), as oil does to alkyd.
        """
        column = rated_as(binder)
        return self.ratings[BINDERS.index(column)] if column else NOT_RATED

    def is_fugitive(self, binder: str) -> bool:
        """Say whether it fades: category III or worse in `binder`, or noted as fugitive."""
        if self.lightfastness(binder) in ("III", "IV", "V"):
            return True
        return any(note.kind == "fugitive" for note in self.notes)

    def cautions_for(self, form: str = "") -> tuple[Caution, ...]:
        """Return the cautions that hold for `form`; for an unknown form, all of them."""
        return tuple(caution for caution in self.cautions if not form or caution.form in ("", form))

    def agrees_with(self, constitution: str) -> bool | None:
        """Say whether a printed constitution number can be this pigment's; None if unknown.

        Suffixes are not weighed: makers print 58000 and 58000:1 for the same lake.
        """
        if not self.constitutions:
            return None
        base = constitution.partition(":")[0]
        return any(known.partition(":")[0] == base for known in self.constitutions)
