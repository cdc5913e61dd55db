"""CxF3, against the `colour-cxf` package's own classes and the sample file it ships."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.errors import UserError
from tubewise.measure.read_file import read_bytes
from tubewise.measure.resample import resample

NS = 'xmlns="http://colorexchangeformat.com/CxF3-core"'
VALUES = " ".join(f"{0.1 + i / 100:.2f}" for i in range(36))


def cxf(
    geometry: str = "<SphereGeometry>Specular_Included</SphereGeometry>",
    values: str = VALUES,
    attributes: str = 'StartWL="380"',
    spec_range: str = '<WavelengthRange StartWL="380" Increment="10"/>',
) -> str:
    """A document of one object."""
    return f"""<?xml version="1.0" encoding="UTF-8"?>
<CxF {NS}><Resources><ObjectCollection>
<Object ObjectType="Standard" Name="masstone" Id="1">
<CreationDate>2026-03-01T10:00:00</CreationDate><ColorValues>
<ReflectanceSpectrum ColorSpecification="S1" {attributes}>{values}</ReflectanceSpectrum>
</ColorValues></Object></ObjectCollection>
<ColorSpecificationCollection><ColorSpecification Id="S1"><MeasurementSpec>
<MeasurementType>Spectrum_Reflectance</MeasurementType>
<GeometryChoice>{geometry}</GeometryChoice>{spec_range}
<Device><Manufacturer>Invented</Manufacturer><Model>Bench 3</Model></Device>
</MeasurementSpec></ColorSpecification></ColorSpecificationCollection></Resources></CxF>"""


def test_a_spectrum_with_its_conditions() -> None:
    (r,) = read_bytes(cxf().encode(), "a.cxf").spectra
    assert r.name == "masstone" and r.wavelengths_nm[0] == 380.0 and r.wavelengths_nm[-1] == 730.0
    c = r.conditions
    assert (c.instrument, c.specular, c.date[:10]) == ("Invented Bench 3", "included", "2026-03-01")


@pytest.mark.parametrize(
    ("geometry", "specular"),
    [
        ("<SphereGeometry>Specular_Excluded</SphereGeometry>", "excluded"),
        (
            "<SingleAngle><IlluminationAngle>45.0</IlluminationAngle>"
            "<MeasurementAngle>0</MeasurementAngle></SingleAngle>",
            "excluded",
        ),
        ("<UnknownGeometry>?</UnknownGeometry>", ""),
    ],
)
def test_geometry_tells_specular(geometry: str, specular: str) -> None:
    (r,) = read_bytes(cxf(geometry).encode(), "a.cxf").spectra
    assert r.conditions.specular == specular


def test_the_step_comes_from_the_specification() -> None:
    text = cxf(
        values=" ".join(["0.2"] * 18),
        attributes="",
        spec_range='<WavelengthRange StartWL="390" Increment="20"/>',
    )
    (r,) = read_bytes(text.encode(), "a.cxf").spectra
    assert r.wavelengths_nm[:2] == (390.0, 410.0)


def test_utf_16_is_read() -> None:
    text = cxf().replace('encoding="UTF-8"', 'encoding="UTF-16"')
    assert len(read_bytes(text.encode("utf-16"), "a.cxf").spectra) == 1


def test_colour_cxf_reads_the_same_numbers() -> None:
    import colour_cxf

    text = cxf().encode()
    theirs = colour_cxf.read_cxf(text).resources.object_collection.object_value[0]
    values = theirs.color_values.choice[0].value
    assert read_bytes(text, "a.cxf").spectra[0].reflectance == tuple(values)


@pytest.mark.slow
def test_the_sample_file_of_colour_cxf_gives_its_own_colours() -> None:
    """144 printed patches, 380-680 nm at 45/0, with CIELAB (D50, 2°) beside each spectrum.

    The file's spectra stop at 680 nm, so our held end value costs a little; its colours were
    computed with other weights for bandpass (ASTM E308 table 5).
    """
    import colour_cxf

    path = Path(colour_cxf.__file__).parent / "tests" / "resources" / "sample.cxf"
    data = path.read_bytes()
    found = read_bytes(data, "sample.cxf").spectra
    document = colour_cxf.read_cxf(data)
    told = []
    for obj in document.resources.object_collection.object_value:
        lab = next(v for v in obj.color_values.choice if type(v).__name__ == "ColorCielab")
        told.append((lab.l, lab.a, lab.b))
    assert len(found) == len(told) == 144
    R = np.stack([resample(r.wavelengths_nm, r.reflectance).reflectance for r in found])
    miss = delta_e_2000(lab_from_reflectance(R, "D50", "2"), np.array(told))
    assert np.median(miss) < 0.3
    assert miss.max() < 1.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (cxf()[:-20], "The XML is broken"),
        (cxf(values="0.1 dark 0.3"), "'dark'"),
        (cxf(attributes="", spec_range=""), "no usable start wavelength"),
        (cxf(spec_range='<WavelengthRange StartWL="380" Increment="0"/>'), "no usable start"),
        (cxf().replace("ReflectanceSpectrum", "TransmittanceSpectrum"), "No ReflectanceSpectrum"),
        (
            cxf().replace("<CxF ", '<!DOCTYPE CxF [<!ENTITY a "b">]><CxF '),
            "declares a document type",
        ),
        ("<?xml version='1.0'?><Other>CxF</Other>", "no CxF3 document"),
        (cxf().replace("<Resources>", "<x>" * 300), "nest too deep"),
    ],
)
def test_faults_are_told(text: str, words: str) -> None:
    with pytest.raises(UserError) as told:
        read_bytes(text.encode(), "a.cxf")
    assert words in str(told.value)


@pytest.mark.slow
@settings(max_examples=200, deadline=None)
@given(st.data())
def test_a_damaged_document_is_read_or_refused(data: st.DataObject) -> None:
    text = cxf()
    for _ in range(data.draw(st.integers(1, 5))):
        at = data.draw(st.integers(60, len(text) - 1))
        cut = data.draw(st.integers(0, 20))
        text = text[:at] + data.draw(st.text(max_size=4)) + text[at + cut :]
    try:
        read_bytes(text.encode("utf-8", "replace"), "f.cxf")
    except UserError as error:
        assert str(error)
