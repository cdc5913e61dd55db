"""Shop exports that the reader was not made with: each tube as a painter reads it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tubes.exports_for_tests import EXPORTS, ShopExport
from tubewise.tubes.exports import read_stock

# Misread today; strict, so that whoever mends the reader strikes the line.
MISREAD = {
    # Its one letter beyond ASCII fits two encodings; that is said, see test_exports.
    "Italian, cp850": "cp850 is taken for Mac Roman",
}


def _case(export: ShopExport) -> object:
    reason = MISREAD.get(export.title)
    marks = [pytest.mark.xfail(reason=reason, strict=True)] if reason else []
    return pytest.param(export, id=export.title, marks=marks)


@pytest.mark.parametrize("export", [_case(export) for export in EXPORTS])
def test_a_fresh_export_is_read_as_its_shop_means_it(export: ShopExport, tmp_path: Path) -> None:
    path = tmp_path / f"stock.{export.ending}"
    path.write_bytes(export.data)
    read = [
        (
            tube.name,
            " ".join(code.partition("/")[0] for code in tube.pigments),
            round(tube.size_ml or 0, 1),
            tube.price,
            tube.stock,
        )
        for tube in read_stock(path)
    ]
    assert read == list(export.meant)
