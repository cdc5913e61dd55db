"""Spectra or a swatch named on the command line, fitted."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tubewise.cli.measure_question import MeasureQuestion
from tubewise.errors import UserError
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.manifest import read_manifest
from tubewise.measure.measured import MeasuredOptics, from_json
from tubewise.measure.read_file import read_file
from tubewise.measure.references import Optics, only_model
from tubewise.measure.spectra import number
from tubewise.measure.swatch import learn_from_swatch
from tubewise.optics.surface import GEOMETRIES
from tubewise.optics.swatch import USUAL_GEOMETRY
from tubewise.store.store import Store


def fit(question: MeasureQuestion) -> MeasuredOptics:
    """The measured optics that the question's files or swatch give. Raises UserError."""
    if question.swatch:
        return _from_swatch(question)
    files = question.files or []
    if len(files) == 1 and files[0].suffix.lower() == ".json":
        exported = _exported(files[0])
        return replace(exported, tube=question.tube or exported.tube)
    drawn = drawdown_set(
        [read_file(path, question.scale) for path in files],
        read_manifest(question.manifest) if question.manifest else (),
        question.specular.casefold(),
        question.density,
        question.white_density,
        question.only,
    )
    return learn(
        drawn,
        tube=question.tube,
        white=_white(question.white),
        model=_model(question),
        fit_surface=question.fit_surface,
    )


def _from_swatch(question: MeasureQuestion) -> MeasuredOptics:
    if question.files:
        raise UserError("Give readings or a swatch's colour, not both.")
    words = question.swatch.removeprefix("lab:").replace(";", ",").split(",")
    lab = [value for value in map(number, words) if value is not None]
    if len(words) != 3 or len(lab) != 3:
        raise UserError("--swatch is three numbers, L,a,b.", where=f"“{question.swatch}”")
    model = _model(question)
    if model is None:
        raise UserError("A swatch needs a pigment's model: say --tube or --pigment.")
    geometry = question.specular.casefold() or USUAL_GEOMETRY
    if geometry not in GEOMETRIES:
        raise UserError(f"--specular is `included` or `excluded`, not {question.specular!r}.")
    return learn_from_swatch(lab, model, tube=question.tube, geometry=geometry)


def _exported(path: Path) -> MeasuredOptics:
    """A measurement that was exported. Raises UserError where the file can't be read."""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "not UTF-8 text"
        raise UserError(f"The file can't be read ({reason}).", where=str(path)) from None
    return from_json(text, path.name)


def _white(term: str) -> Optics | None:
    """The white of the tints as measured, from a file or the store; None for the model."""
    from tubewise.measure.attach import current

    if not term:
        return None
    if Path(term).suffix.lower() == ".json":
        optics = _exported(Path(term))
    else:
        with Store() as store:
            found = current(store, term)
        if found is None:
            raise UserError("This white has no measurement in use.", where=f"“{term}”")
        optics = found.optics
    return Optics(optics.K, optics.S, f"the measured white {optics.tube or term}")


def _model(question: MeasureQuestion) -> Optics | None:
    """The model of the pigment named, or of the only pigment of the tube in the store."""
    if question.pigment:
        return only_model((question.pigment,))
    if not question.tube:
        return None
    with Store() as store:
        tube = store.tube(question.tube)
    return only_model(tube.refs) if tube is not None else None
