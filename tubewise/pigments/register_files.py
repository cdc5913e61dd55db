"""The register's data files, read and checked: every fault is named by file, row and column."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from pathlib import Path

from tubewise.pigments.pigment import Caution, Form, Note, Pigment
from tubewise.pigments.promise import Promise
from tubewise.pigments.tables import Faults, Row, read_rows
from tubewise.pigments.terms import (
    APPLIES,
    BINDERS,
    CATEGORIES,
    CAUTION_KINDS,
    HUES,
    NEEDS,
    NOT_RATED,
    NOTE_KINDS,
    OPACITIES,
)
from tubewise.pigments.words import phrase_key

_PIGMENT_COLUMNS = (
    *("code", "parent", "constitutions", "chemical", "names", "chem_class"),
    *("hue", "opacity", "needs", "assumed", "source"),
)
_FORM_COLUMNS = ("code", "form", "default", "label_words", "hue_words", "opacity", "note", "source")
_CODE = re.compile(
    r"(?:P(?:Y|O|R|V|B|G|Br|Bk|W|M)|N(?:Y|O|R|V|B|G|Br|Bk|W)|[ABDSV](?:Y|O|R|V|B|G|Br|Bk))"
    r"[1-9]\d{0,2}(?::[1-9]\d?)?"
)
_CONSTITUTION = re.compile(r"\d{5,6}(?::\d{1,2})?")
_FORM = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


def read_files(
    folder: Path,
) -> tuple[dict[str, Pigment], dict[tuple[str, ...], Promise], tuple[Caution, ...]]:
    """Return the pigments by code, the promises by phrase, and the cautions for every pigment.

    Raises `UserError` naming file, row and column of everything that cannot be used.
    """
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
    return pigments, promises, tuple(texts.get("general", ()))


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
    for row in read_rows(path, _PIGMENT_COLUMNS):
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
