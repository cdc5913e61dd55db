"""The register of pigments: what a Colour Index name stands for, read from the data files.

Needs only the standard library and loads in a few hundredths of a second, since reading a label
must be quick. Every fact stands in a spreadsheet under `data/` with its source.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from tubewise.errors import UserError
from tubewise.pigments.ref import Ref
from tubewise.pigments.tables import Faults, Row, read_rows
from tubewise.pigments.words import find_phrases, fold, phrase_key

BINDERS = ("acrylic", "oil", "watercolour", "gouache")
HUES = (
    "yellow",
    "orange",
    "red",
    "violet",
    "blue",
    "green",
    "brown",
    "black",
    "white",
    "metallic",
)
OPACITIES = ("transparent", "semi-transparent", "semi-opaque", "opaque")
NEEDS = ("", "suffix", "form")
CATEGORIES = ("I", "II", "III", "IV", "V", "not rated")
NOT_RATED = "not rated"
CAUTION_KINDS = (
    "cadmium",
    "cobalt",
    "lead",
    "nickel",
    "manganese",
    "chromate",
    "mercury",
    "arsenic",
    "copper",
    "antimony",
    "barium",
    "zinc",
    "vanadium",
    "silica",
    "dust",
    "heating",
    "fire",
    "swallowing",
    "general",
)
APPLIES = ("dust", "spraying", "sanding", "heating", "swallowing", "skin", "children", "waste")
NOTE_KINDS = (
    "fugitive",
    "fugitive in tints",
    "depends on the grade",
    "darkens in light",
    "blackens with sulphur",
    "sensitive to alkali",
    "sensitive to acid",
    "bleeds",
    "brittle film",
    "historic",
)

_PIGMENT_COLUMNS = (
    *("code", "parent", "constitutions", "chemical", "names", "chem_class"),
    *("hue", "opacity", "needs", "assumed", "source"),
)
_FORM_COLUMNS = ("code", "form", "default", "label_words", "hue_words", "opacity", "note", "source")
_DATA = Path(__file__).parent / "data"
_CODE = re.compile(
    r"(?:P(?:Y|O|R|V|B|G|Br|Bk|W|M)|N(?:Y|O|R|V|B|G|Br|Bk|W)|[ABDSV](?:Y|O|R|V|B|G|Br|Bk))"
    r"[1-9]\d{0,2}(?::[1-9]\d?)?"
)
_CONSTITUTION = re.compile(r"\d{5,6}(?::\d{1,2})?")
_FORM = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_BINDER_WORDS = {
    "watercolor": "watercolour",
    "acrylics": "acrylic",
    "oils": "oil",
    "watercolours": "watercolour",
    "watercolors": "watercolour",
}


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
        """Return the ASTM category "I" to "V" in `binder`, or "not rated".

        "not rated" also for a binder that the standards do not cover: no rating is borrowed.
        """
        wanted = fold(binder.strip())
        wanted = _BINDER_WORDS.get(wanted, wanted)
        return self.ratings[BINDERS.index(wanted)] if wanted in BINDERS else NOT_RATED

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


@dataclass(frozen=True, slots=True)
class Promise:
    """A phrase in a tube's name and the pigments it promises.

    `strength` is `pigment` when the plain name promises one of `codes`, or `name only` when the
    trade uses the name for other pigments too, so that nothing follows from it.
    `span` is where the phrase stands in the text.
    """

    promise: str
    codes: tuple[str, ...]
    strength: str
    source: str
    span: tuple[int, int] = (0, 0)


class Register:
    """All pigments, by code, by constitution number and by the names that promise them."""

    __slots__ = (
        "_by_constitution",
        "_by_folded",
        "_longest_promise",
        "_pigments",
        "_promises",
        "general_cautions",
    )

    def __init__(
        self,
        pigments: Mapping[str, Pigment],
        promises: Mapping[tuple[str, ...], Promise],
        general_cautions: tuple[Caution, ...],
    ) -> None:
        self._pigments = dict(pigments)
        self._promises = dict(promises)
        self._longest_promise = max(map(len, promises), default=0)
        self.general_cautions = general_cautions
        self._by_folded = {code.lower(): pigment for code, pigment in pigments.items()}
        numbers: defaultdict[str, list[Pigment]] = defaultdict(list)
        for pigment in pigments.values():
            for number in pigment.constitutions:
                numbers[number].append(pigment)
        self._by_constitution = {number: tuple(found) for number, found in numbers.items()}

    def __len__(self) -> int:
        return len(self._pigments)

    def __iter__(self) -> Iterator[Pigment]:
        return iter(self._pigments.values())

    def __contains__(self, code: object) -> bool:
        return isinstance(code, str) and self.get(code) is not None

    @property
    def codes(self) -> tuple[str, ...]:
        """Every code, in the order of the file."""
        return tuple(self._pigments)

    @property
    def refs(self) -> tuple[Ref, ...]:
        """Every colour the register tells apart: `PB29/red-shade`, or `PB28` without forms."""
        return tuple(ref for pigment in self for ref in pigment.refs)

    def get(self, code: str) -> Pigment | None:
        """Return the pigment with this code, in any case, or None."""
        return self._by_folded.get(code.strip().lower())

    def by_constitution(self, number: str) -> tuple[Pigment, ...]:
        """Return the pigments with this C.I. Constitution Number, such as "73900"; () if none."""
        return self._by_constitution.get(number.strip(), ())

    def suffixed(self, code: str) -> tuple[Pigment, ...]:
        """Return the pigments whose parent is `code`: PB15:1 to PB15:6 for PB15."""
        return tuple(pigment for pigment in self if pigment.parent == code)

    def resolve(self, ref: str) -> tuple[Pigment, Form | None]:
        """Return the pigment and form that `ref` names: `PV19/gamma`, `PW6`.

        Without a form the default one. Raises `UserError` for an unknown code or form, with the
        nearest known ones.
        """
        code, _, form_name = ref.strip().partition("/")
        pigment = self.get(code)
        if pigment is None:
            import difflib  # costs a hundredth of a second, and only mistakes need it

            near = difflib.get_close_matches(code.strip().lower(), self._by_folded, n=3)
            hint = f"; did you mean {' or '.join(self._by_folded[n].code for n in near)}?"
            raise UserError(f"{code.strip()!r} is not in the register{hint if near else ''}")
        if not form_name:
            return pigment, pigment.default_form
        form = pigment.form(form_name)
        if form is None:
            known = ", ".join(pigment.refs)
            raise UserError(
                f"{pigment.code} has no form {form_name.strip()!r}; "
                + (f"known are {known}" if pigment.forms else f"write {pigment.code}")
            )
        return pigment, form

    def promises(self, text: str) -> tuple[Promise, ...]:
        """Return what a tube's name promises, each with its span; the longest phrase wins."""
        return tuple(
            Promise(found.promise, found.codes, found.strength, found.source, span)
            for found, span in find_phrases(text, self._promises, self._longest_promise)
        )


def load(folder: Path | None = None) -> Register:
    """Return the register read from `folder`, or the one that ships (read once).

    Raises `UserError` naming file, row and column of everything that cannot be used.
    """
    return _shipped() if folder is None else _read(folder)


@lru_cache(maxsize=1)
def _shipped() -> Register:
    return _read(_DATA)


def _read(folder: Path) -> Register:
    rows = _pigment_rows(folder / "pigments.csv")
    forms = _forms(folder / "forms.csv", rows)
    ratings, rating_sources = _ratings(folder / "lightfastness.csv", rows)
    texts = _caution_texts(folder / "cautions.csv")
    cautions = _cautions(folder / "pigment_cautions.csv", rows, forms, texts)
    notes = _notes(folder / "notes.csv", rows)
    _check_needs(folder / "pigments.csv", rows, forms)
    pigments = {
        code: Pigment(
            code=code,
            parent=row["parent"],
            constitutions=row.listed("constitutions"),
            chemical=row["chemical"],
            names=row.listed("names"),
            chem_class=row["chem_class"],
            hue=row["hue"],
            opacity=row["opacity"],
            needs=row["needs"],
            assumed=row["assumed"],
            forms=tuple(forms.get(code, ())),
            ratings=ratings.get(code, (NOT_RATED, NOT_RATED, NOT_RATED, NOT_RATED)),
            cautions=tuple(cautions.get(code, ())),
            notes=tuple(notes.get(code, ())),
            sources=(row["source"], *rating_sources.get(code, ())),
        )
        for code, row in rows.items()
    }
    promises = _promises(folder / "name_promises.csv", rows)
    return Register(pigments, promises, tuple(texts.get("general", ())))


def _one_of(faults: Faults, row: Row, column: str, allowed: tuple[str, ...]) -> None:
    if row[column] not in allowed:
        faults.add(
            row, column, f"must be one of {', '.join(word or 'nothing' for word in allowed)}"
        )


def _filled(faults: Faults, row: Row, *columns: str) -> None:
    for column in columns:
        if not row[column]:
            faults.add(row, column, "must not be empty")


def _known(faults: Faults, row: Row, column: str, rows: Mapping[str, Row]) -> bool:
    if row[column] in rows:
        return True
    faults.add(row, column, "is not a code in pigments.csv")
    return False


def _pigment_rows(path: Path) -> dict[str, Row]:
    faults = Faults(path.name)
    rows: dict[str, Row] = {}
    columns = [
        "code",
        "parent",
        "constitutions",
        "chemical",
        "names",
        "chem_class",
        "hue",
        "opacity",
        "needs",
        "assumed",
        "source",
    ]
    for row in read_rows(path, columns):
        code = row["code"]
        if not _CODE.fullmatch(code):
            faults.add(row, "code", "is not a Colour Index name such as PV19, PB15:3 or NR9")
        elif code in rows:
            faults.add(row, "code", f"stands already in row {rows[code].number}")
        rows[code] = row
        for number in row.listed("constitutions"):
            if not _CONSTITUTION.fullmatch(number):
                faults.add(row, "constitutions", "must be five or six digits, then perhaps :1")
        _one_of(faults, row, "hue", HUES)
        _one_of(faults, row, "opacity", OPACITIES)
        _one_of(faults, row, "needs", NEEDS)
        _filled(faults, row, "chemical", "names", "chem_class", "source")
    for row in rows.values():
        if row["parent"] and row["parent"] not in rows:
            faults.add(row, "parent", "is not a code in this file")
        if row["parent"] and not row["code"].startswith(f"{row['parent']}:"):
            faults.add(row, "parent", "must be the code without its suffix")
        if row["assumed"] and row["assumed"] not in rows:
            faults.add(row, "assumed", "is not a code in this file")
        if (row["needs"] == "suffix") != bool(row["assumed"]):
            faults.add(row, "assumed", "must be filled where needs says suffix, and only there")
    if not rows:
        faults.problems.append("there is no pigment in it")
    faults.raise_if_any()
    return rows


def _check_needs(path: Path, rows: Mapping[str, Row], forms: Mapping[str, list[Form]]) -> None:
    faults = Faults(path.name)
    for code, row in rows.items():
        if row["needs"] == "form" and len(forms.get(code, ())) < 2:
            faults.add(row, "needs", "says form, but forms.csv has fewer than two for this code")
    faults.raise_if_any()


def _forms(path: Path, rows: Mapping[str, Row]) -> dict[str, list[Form]]:
    faults = Faults(path.name)
    forms: defaultdict[str, list[Form]] = defaultdict(list)
    last: dict[str, Row] = {}
    revealed: dict[tuple[str, tuple[str, ...]], str] = {}
    for row in read_rows(path, _FORM_COLUMNS):
        code, name = row["code"], row["form"]
        _known(faults, row, "code", rows)
        if not _FORM.fullmatch(name):
            faults.add(row, "form", "must be small letters, digits and hyphens")
        if any(form.name == name for form in forms[code]):
            faults.add(row, "form", f"stands twice for {code}")
        if row["default"] == "yes" and any(form.default for form in forms[code]):
            faults.add(row, "default", f"{code} has two default forms; keep one yes")
        _one_of(faults, row, "default", ("", "yes"))
        _one_of(faults, row, "opacity", OPACITIES)
        for hue in row.listed("hue_words"):
            if hue not in HUES:
                faults.add(row, "hue_words", f"{hue!r} is not one of {', '.join(HUES)}")
        _filled(faults, row, "label_words", "hue_words", "note", "source")
        for word in row.listed("label_words"):
            other = revealed.setdefault((code, phrase_key(word)), name)
            if other != name:
                faults.add(row, "label_words", f"{word!r} reveals {code}/{other} already")
        last[code] = row
        forms[code].append(
            Form(
                name=name,
                default=row["default"] == "yes",
                label_words=row.listed("label_words"),
                hue_words=row.listed("hue_words"),
                opacity=row["opacity"],
                note=row["note"],
                source=row["source"],
            )
        )
    for code, known in forms.items():
        if not any(form.default for form in known):
            faults.add(last[code], "default", f"no form of {code} is the default; write yes in one")
    faults.raise_if_any()
    return dict(forms)


def _ratings(
    path: Path, rows: Mapping[str, Row]
) -> tuple[dict[str, tuple[str, str, str, str]], dict[str, tuple[str, ...]]]:
    faults = Faults(path.name)
    ratings: dict[str, tuple[str, str, str, str]] = {}
    sources: dict[str, tuple[str, ...]] = {}
    for row in read_rows(path, ("code", *BINDERS, "source")):
        _known(faults, row, "code", rows)
        if row["code"] in ratings:
            faults.add(row, "code", "stands twice")
        for binder in BINDERS:
            _one_of(faults, row, binder, CATEGORIES)
        _filled(faults, row, "source")
        acrylic, oil, watercolour, gouache = (row[binder] for binder in BINDERS)
        ratings[row["code"]] = (acrylic, oil, watercolour, gouache)
        sources[row["code"]] = (row["source"],)
    faults.raise_if_any()
    return ratings, sources


def _caution_texts(path: Path) -> dict[str, list[Caution]]:
    faults = Faults(path.name)
    texts: defaultdict[str, list[Caution]] = defaultdict(list)
    for row in read_rows(path, ("kind", "applies", "text", "source")):
        _one_of(faults, row, "kind", CAUTION_KINDS)
        for when in row.listed("applies"):
            if when not in APPLIES:
                faults.add(row, "applies", f"{when!r} is not one of {', '.join(APPLIES)}")
        _filled(faults, row, "applies", "text", "source")
        if not re.search(r"\blabel\b.*\bsafety data sheet\b", row["text"], re.DOTALL):
            faults.add(row, "text", "must send the reader to the label and the safety data sheet")
        if re.search(r"\b(?:safe|harmless|non-?toxic)\b", row["text"], re.IGNORECASE):
            faults.add(row, "text", "must not call anything safe, harmless or non-toxic")
        caution = Caution(row["kind"], row["text"], row.listed("applies"), row["source"])
        texts[row["kind"]].append(caution)
    faults.raise_if_any()
    return dict(texts)


def _cautions(
    path: Path,
    rows: Mapping[str, Row],
    forms: Mapping[str, list[Form]],
    texts: Mapping[str, list[Caution]],
) -> dict[str, list[Caution]]:
    faults = Faults(path.name)
    cautions: defaultdict[str, list[Caution]] = defaultdict(list)
    for row in read_rows(path, ("code", "form", "kind", "source")):
        code, form = row["code"], row["form"]
        if not _known(faults, row, "code", rows):
            continue
        if form and not any(known.name == form for known in forms.get(code, ())):
            faults.add(row, "form", f"is not a form of {code} in forms.csv")
        if row["kind"] not in texts:
            faults.add(row, "kind", "has no text in cautions.csv")
        _filled(faults, row, "source")
        cautions[code] += [
            Caution(text.kind, text.text, text.applies, f"{text.source}; {row['source']}", form)
            for text in texts.get(row["kind"], ())
        ]
    faults.raise_if_any()
    return dict(cautions)


def _notes(path: Path, rows: Mapping[str, Row]) -> dict[str, list[Note]]:
    faults = Faults(path.name)
    notes: defaultdict[str, list[Note]] = defaultdict(list)
    for row in read_rows(path, ("code", "note", "text", "source")):
        _known(faults, row, "code", rows)
        _one_of(faults, row, "note", NOTE_KINDS)
        _filled(faults, row, "text", "source")
        notes[row["code"]].append(Note(row["note"], row["text"], row["source"]))
    faults.raise_if_any()
    return dict(notes)


def _promises(path: Path, rows: Mapping[str, Row]) -> dict[tuple[str, ...], Promise]:
    faults = Faults(path.name)
    promises: dict[tuple[str, ...], Promise] = {}
    for row in read_rows(path, ("promise", "phrases", "codes", "strength", "source")):
        codes = row.listed("codes")
        for code in codes:
            if code not in rows:
                faults.add(row, "codes", f"{code!r} is not a code in pigments.csv")
        _one_of(faults, row, "strength", ("pigment", "name only"))
        if row["strength"] == "pigment" and not codes:
            faults.add(row, "codes", "must name the pigments that the name promises")
        _filled(faults, row, "promise", "phrases", "source")
        promise = Promise(row["promise"], codes, row["strength"], row["source"])
        for phrase in row.listed("phrases"):
            key = phrase_key(phrase)
            if promises.get(key, promise) is not promise:
                faults.add(row, "phrases", f"{phrase!r} stands already for {promises[key].promise}")
            promises[key] = promise
    faults.raise_if_any()
    return promises
