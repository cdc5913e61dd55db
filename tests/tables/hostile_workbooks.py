"""Workbooks of some kilobytes that hung a server once, made anew."""

from __future__ import annotations

import io
import zipfile

_NS = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
_OFFICE = "http://schemas.openxmlformats.org"
_PARTS = {
    "[Content_Types].xml": f"""<Types xmlns="{_OFFICE}/package/2006/content-types">
<Default Extension="rels"
 ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Override PartName="/xl/workbook.xml"
 ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>
<Override PartName="/xl/worksheets/sheet1.xml"
 ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>
<Override PartName="/xl/sharedStrings.xml"
 ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/>
</Types>""",
    "_rels/.rels": f"""<Relationships xmlns="{_OFFICE}/package/2006/relationships">
<Relationship Id="a" Target="xl/workbook.xml"
 Type="{_OFFICE}/officeDocument/2006/relationships/officeDocument"/></Relationships>""",
    "xl/workbook.xml": f"""<workbook {_NS}
 xmlns:r="{_OFFICE}/officeDocument/2006/relationships">
<sheets><sheet name="Paints" sheetId="1" r:id="b"/></sheets></workbook>""",
    "xl/_rels/workbook.xml.rels": f"""<Relationships xmlns="{_OFFICE}/package/2006/relationships">
<Relationship Id="b" Target="worksheets/sheet1.xml"
 Type="{_OFFICE}/officeDocument/2006/relationships/worksheet"/>
<Relationship Id="c" Target="sharedStrings.xml"
 Type="{_OFFICE}/officeDocument/2006/relationships/sharedStrings"/></Relationships>""",
}
HEADER = '<row r="1"><c r="A1" t="inlineStr"><is><t>name</t></is></c></row>'


def cell(text: str, place: str = "A2") -> str:
    """A cell that holds a text."""
    return f'<c r="{place}" t="inlineStr"><is><t xml:space="preserve">{text}</t></is></c>'


def book(rows: str, after: str = "", shared: str = "<si><t>Rose</t></si>") -> bytes:
    """A workbook whose only sheet holds these marks."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in _PARTS.items():
            archive.writestr(name, text)
        sheet = f"<worksheet {_NS}><sheetData>{rows}</sheetData>{after}</worksheet>"
        archive.writestr("xl/worksheets/sheet1.xml", sheet)
        archive.writestr("xl/sharedStrings.xml", f"<sst {_NS}>{shared}</sst>")
    return out.getvalue()


def numbered(row: str) -> bytes:
    """A workbook whose second row has this number."""
    return book(f'{HEADER}<row r="{row}"><c t="inlineStr"><is><t>Rose</t></is></c></row>')


def placed(place: str) -> bytes:
    """A workbook with a cell that stands there."""
    return book(HEADER + f'<row r="2">{cell("Rose", place)}</row>')


def long_cell(characters: int, text: str = " ") -> bytes:
    """A workbook with one very long run in a cell."""
    return book(HEADER + f'<row r="2">{cell(text * characters + "x")}</row>')


def far_cells(rows: int) -> bytes:
    """A workbook of rows that are empty but for their far end."""
    return book(
        HEADER + "".join(f'<row r="{n}">{cell("x", f"XFD{n}")}</row>' for n in range(2, rows + 2))
    )


def merged(ranges: int) -> bytes:
    """A workbook of many merged ranges."""
    each = "".join(f'<mergeCell ref="A{n}:B{n}"/>' for n in range(1, ranges + 1))
    return book(HEADER, f"<mergeCells>{each}</mergeCells>")


def shared(texts: int) -> bytes:
    """A workbook of many shared texts that no cell needs."""
    return book(HEADER, shared="<si><t/></si>" * texts)


_URN = "urn:oasis:names:tc:opendocument:xmlns"


def open_cell(times: str = "1", text: str = "Rose") -> str:
    """An OpenDocument's cell, repeated."""
    return (
        f'<table:table-cell table:number-columns-repeated="{times}" office:value-type="string">'
        f"<text:p>{text}</text:p></table:table-cell>"
    )


def open_row(cells: str, times: str = "1") -> str:
    """An OpenDocument's row, repeated."""
    return f'<table:table-row table:number-rows-repeated="{times}">{cells}</table:table-row>'


def opendocument(rows: str) -> bytes:
    """An OpenDocument whose only sheet holds these rows."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr(
            "META-INF/manifest.xml",
            f'<manifest:manifest xmlns:manifest="{_URN}:manifest:1.0"/>',
        )
        archive.writestr(
            "content.xml",
            f'<office:document-content xmlns:office="{_URN}:office:1.0"'
            f' xmlns:table="{_URN}:table:1.0" xmlns:text="{_URN}:text:1.0"><office:body>'
            f'<office:spreadsheet><table:table table:name="Paints">{rows}</table:table>'
            "</office:spreadsheet></office:body></office:document-content>",
        )
    return out.getvalue()
