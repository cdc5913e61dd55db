"""The readers, each as a function of bytes that may refuse them but never stumble."""

from __future__ import annotations

import io
import json
import tempfile
import zipfile
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from importlib import import_module
from pathlib import Path

from tubewise.advice.counter.label import read_label
from tubewise.colour.grid import N_BANDS
from tubewise.demo.workshop import folder
from tubewise.errors import UserError
from tubewise.measure.manifest import read_manifest
from tubewise.measure.measured import FORMAT, LEVELS, from_json
from tubewise.measure.read_file import read_bytes
from tubewise.measure.spectra import Conditions
from tubewise.pictures.opening import open_picture
from tubewise.tables import workbooks
from tubewise.tables.cells import Cell
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.supply import read_supply_list

MOST_BYTES = 16_384


def read_here() -> None:
    """Read workbooks in this process: what one apart would only end is to be seen."""
    apart = import_module("tubewise.tables.spreadsheet")
    vars(apart)["workbook_grids_apart"] = workbooks.workbook_grids


@dataclass(frozen=True, slots=True)
class Reader:
    """A reader of bytes and a few files to begin from."""

    read: Callable[[bytes], object]
    seeds: Callable[[], list[bytes]]


def _tables(ending: str) -> Callable[[bytes], object]:
    def read(data: bytes) -> object:
        with tempfile.TemporaryDirectory(prefix="tubewise-fuzz-") as place:
            path = Path(place) / f"a.{ending}"
            path.write_bytes(data)
            for reader in (read_catalogue, read_boxes, read_supply_list, read_manifest):
                _or_refused(reader, path)
        return None

    return read


def _or_refused(reader: Callable[[Path], object], path: Path) -> None:
    try:
        reader(path)
    except UserError as error:
        assert error.message and error.where, "a refusal says what and where"


def _sheet(data: bytes) -> object:
    """A workbook whose only sheet is these bytes, past the archive's own checks."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(_book())) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as new,
    ):
        for name in old.namelist():
            new.writestr(name, data if "sheet1" in name else old.read(name))
    return workbooks.workbook_grids("a.xlsx", out.getvalue())


_URN = "urn:oasis:names:tc:opendocument:xmlns"


def _opendocument(data: bytes) -> object:
    """An OpenDocument whose content is these bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as new:
        new.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        manifest = f'<manifest:manifest xmlns:manifest="{_URN}:manifest:1.0"/>'
        new.writestr("META-INF/manifest.xml", manifest)
        new.writestr("content.xml", data)
    return workbooks.workbook_grids("a.ods", out.getvalue())


def _contents() -> list[bytes]:
    cell = '<table:table-cell office:value-type="string"><text:p>Rose</text:p></table:table-cell>'
    number = '<table:table-cell office:value-type="float" office:value="4.2"/>'
    return [
        (
            f'<office:document-content xmlns:office="{_URN}:office:1.0"'
            f' xmlns:table="{_URN}:table:1.0" xmlns:text="{_URN}:text:1.0"><office:body>'
            '<office:spreadsheet><table:table table:name="A">'
            f'<table:table-row table:number-rows-repeated="2">{cell}{number}</table:table-row>'
            "</table:table></office:spreadsheet></office:body></office:document-content>"
        ).encode()
    ]


def _book() -> bytes:
    rows: list[Sequence[Cell]] = [["Rose", "PV19", "4,20", 37.0], ["Blue", "PB29", "=1", 12.5]]
    return workbooks.workbook_bytes([("Paints", ["name", "label", "price", "size_ml"], rows)])


def _sheets() -> list[bytes]:
    with zipfile.ZipFile(io.BytesIO(_book())) as book:
        return [book.read(name) for name in book.namelist() if "sheet1.xml" in name]


def _text_tables() -> list[bytes]:
    names = ("catalogue.csv", "boxes.csv", "supply.csv", "supply-mixes.csv")
    whole = [(folder() / name).read_bytes()[:3000] for name in names]
    return [*whole, whole[0].replace(b",", b";"), whole[0].decode().encode("utf-16")]


def _cgats() -> list[bytes]:
    bands = " ".join(f"NM{n}" for n in range(400, 710, 10))
    values = " ".join("0.5" for _ in range(31))
    return [
        f"CGATS.17\nNUMBER_OF_FIELDS 32\nBEGIN_DATA_FORMAT\nSAMPLE_NAME {bands}\n"
        f'END_DATA_FORMAT\nNUMBER_OF_SETS 1\nBEGIN_DATA\n"Rose" {values}\nEND_DATA\n'.encode()
    ]


def _cxf() -> list[bytes]:
    values = " ".join("0.5" for _ in range(36))
    return [
        b'<?xml version="1.0"?><cc:CxF xmlns:cc="http://colorexchangeformat.com/CxF3-core">'
        b'<cc:Resources><cc:ObjectCollection><cc:Object Name="Rose" ObjectType="Standard" Id="a">'
        b'<cc:ColorValues><cc:ReflectanceSpectrum StartWL="380" ColorSpecification="b">'
        + values.encode()
        + b"</cc:ReflectanceSpectrum></cc:ColorValues></cc:Object></cc:ObjectCollection>"
        b'<cc:ColorSpecificationCollection><cc:ColorSpecification Id="b"><cc:MeasurementSpec>'
        b'<cc:WavelengthRange StartWL="380" Increment="10"/></cc:MeasurementSpec>'
        b"</cc:ColorSpecification></cc:ColorSpecificationCollection></cc:Resources></cc:CxF>"
    ]


def _spectral() -> list[bytes]:
    head = ",".join(str(n) for n in range(400, 710, 10))
    return [f"name,{head}\nRose,{','.join('0.5' for _ in range(31))}\n".encode()]


def _json() -> list[bytes]:
    bands = range(N_BANDS)
    document = {
        "format": FORMAT,
        "tube": "rose",
        "level": LEVELS[0],
        "surface": [0.03, 0.65],
        "K": [0.5 for _ in bands],
        "S": [0.5 for _ in bands],
        "rms": [0.01 for _ in bands],
        "local": [[[1.0, 0.0], [0.0, 1.0]] for _ in bands],
        "shared": [],
        "films": [],
        "conditions": asdict(Conditions()),
        "readings": [],
        "assumed": [],
        "not_learned": [],
        "warnings": [],
    }
    return [json.dumps(document).encode()]


def _pictures() -> list[bytes]:
    from PIL import Image

    found = []
    for kind in ("PNG", "JPEG", "WEBP", "TIFF"):
        out = io.BytesIO()
        Image.linear_gradient("L").resize((80, 70)).convert("RGB").save(out, kind)
        found.append(out.getvalue())
    return found


def _labels() -> list[bytes]:
    return [
        text.encode()
        for text in ("PV19 quinacridone rose", "PB 15:3 + PW6", "P.R. 101 (77491)", "Pigment: PBk9")
    ]


READERS = {
    "csv": Reader(_tables("csv"), _text_tables),
    "xlsx": Reader(_tables("xlsx"), lambda: [_book()]),
    "xlsx-sheet": Reader(_sheet, _sheets),
    "ods-content": Reader(_opendocument, _contents),
    "cgats": Reader(lambda data: read_bytes(data, "a.txt"), _cgats),
    "cxf": Reader(lambda data: read_bytes(data, "a.cxf"), _cxf),
    "spectral-csv": Reader(lambda data: read_bytes(data, "a.csv"), _spectral),
    "json": Reader(lambda data: from_json(data.decode("utf-8", "replace"), "a.json"), _json),
    "image": Reader(open_picture, _pictures),
    "label": Reader(lambda data: read_label(data.decode("utf-8", "replace")), _labels),
}
