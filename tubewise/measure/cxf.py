"""Spectra from CxF3 files (ISO 17972-1)."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # nosec B405 # only built with; DTDs are refused below
from xml.parsers import expat

from tubewise.errors import UserError
from tubewise.limits import MOST_DEPTH, MOST_READINGS
from tubewise.measure.spectra import (
    Conditions,
    Spectra,
    is_percent,
    number,
    spectrum,
)
from tubewise.optics.geometry import geometry_named

# CxF3 steps by 10 nm where the file leaves the increment out (ISO 17972-1, from memory).
DEFAULT_STEP_NM = 10.0


def looks_like_cxf(data: bytes) -> bool:
    """Whether bytes begin as a CxF document does."""
    head = data[:4096].replace(b"\x00", b"")
    return b"<" in head[:64] and b"CxF" in head


def read_cxf(data: bytes, file: str, scale: str = "auto") -> Spectra:
    """Every ReflectanceSpectrum of a CxF3 document, named for its object.

    Conditions come from the ColorSpecification the element points to. The document is parsed
    without DTDs or entities, so a file cannot reach out or blow up. Raises UserError, with the
    line where known, for broken XML and for spectra without numbers or wavelengths.
    """
    root = _tree(data, file)
    specs = {
        spec.get("Id", ""): spec for spec in root.iter() if _local(spec) == "ColorSpecification"
    }
    if _local(root) != "CxF":
        raise UserError("This XML is no CxF3 document.", where=file)
    raw = []
    for obj in root.iter():
        if _local(obj) != "Object":
            continue
        name = obj.get("Name") or obj.get("Id") or ""
        spectra = [e for e in obj.iter() if _local(e) == "ReflectanceSpectrum"]
        for element in spectra:
            place = f"{file}, object {name or '(no name)'}"
            spec = specs.get(element.get("ColorSpecification", ""))
            values = _values(element, place)
            start, step = _range(element, spec, place)
            wavelengths = [start + step * i for i in range(len(values))]
            conditions = _conditions(obj, element, spec)
            own = element.get("Name")
            full = f"{name} {own}" if own and len(spectra) > 1 else name
            raw.append((full, wavelengths, values, place, conditions))
            if len(raw) > MOST_READINGS:
                raise UserError(f"More than {MOST_READINGS:,} spectra; split the file.", where=file)
    if not raw:
        raise UserError(
            "No ReflectanceSpectrum in this CxF file; export it with spectral data.", where=file
        )
    percent, note = is_percent([v for row in raw for v in row[2]], scale, False)
    return Spectra(
        tuple(
            spectrum(name, wavelengths, values, place, percent=percent, conditions=conditions)
            for name, wavelengths, values, place, conditions in raw
        ),
        (f"{file}: {note}",) if note else (),
    )


def _tree(data: bytes, file: str) -> ET.Element:
    builder = ET.TreeBuilder()
    parser = expat.ParserCreate(namespace_separator="}")
    depth = 0

    def refuse(*_: object) -> None:
        raise UserError("The file declares a document type; CxF needs none.", where=file)

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > MOST_DEPTH:
            raise UserError("The elements nest too deep for a CxF file.", where=file)
        builder.start(tag, attributes)

    def end(tag: str) -> None:
        nonlocal depth
        depth -= 1
        builder.end(tag)

    parser.StartDoctypeDeclHandler = refuse
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = builder.data
    try:
        parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as error:
        line = getattr(error, "lineno", 0)
        raise UserError(
            f"The XML is broken ({str(error).split(':')[0]}); export the file again.",
            where=f"{file}, line {line}" if line else file,
        ) from None
    return builder.close()


def _local(element: ET.Element) -> str:
    return element.tag.rsplit("}", 1)[-1]


def _text(element: ET.Element | None, tag: str) -> str:
    if element is None:
        return ""
    found = next((e for e in element.iter() if _local(e) == tag), None)
    return (found.text or "").strip() if found is not None else ""


def _values(spectrum: ET.Element, place: str) -> list[float]:
    values: list[float] = []
    for token in (spectrum.text or "").split():
        value = number(token)
        if value is None:
            raise UserError(f"{token!r} in the spectrum is not a number.", where=place)
        values.append(value)
    return values


def _range(spectrum: ET.Element, spec: ET.Element | None, place: str) -> tuple[float, float]:
    range_element = None
    if spec is not None:
        range_element = next((e for e in spec.iter() if _local(e) == "WavelengthRange"), None)
    start_text = spectrum.get("StartWL") or (
        range_element.get("StartWL") if range_element is not None else None
    )
    step_text = spectrum.get("Increment") or (
        range_element.get("Increment") if range_element is not None else None
    )
    start = number(start_text or "")
    step = number(step_text) if step_text else DEFAULT_STEP_NM
    if start is None or step is None or not 0.0 < step <= 100.0:
        raise UserError(
            "The spectrum has no usable start wavelength and increment (StartWL, Increment).",
            where=place,
        )
    return start, step


def _conditions(obj: ET.Element, spectrum: ET.Element, spec: ET.Element | None) -> Conditions:
    geometry = ""
    if spec is not None:
        sphere = _text(spec, "SphereGeometry")
        lit, seen = _text(spec, "IlluminationAngle"), _text(spec, "MeasurementAngle")
        if sphere:
            geometry = sphere
        elif lit and seen:
            geometry = f"{number(lit) or 0:g}/{number(seen) or 0:g}"
    instrument = " ".join(
        part for tag in ("Manufacturer", "Model", "SerialNumber") if (part := _text(spec, tag))
    )
    corrected = _text(spec, "BandpassCorrected")
    return Conditions(
        instrument=instrument,
        date=spectrum.get("MeasureDate") or _text(obj, "CreationDate"),
        geometry=geometry,
        specular=geometry_named(geometry),
        light=_text(spec, "DeviceIllumination"),
        bandpass="corrected" if corrected.casefold() in ("true", "1") else "",
        backing=_text(spec, "Backing"),
    )
