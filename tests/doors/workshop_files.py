"""A small workshop full of oddities: what the doors are asked about."""

from __future__ import annotations

CATALOGUE = """maker,line,grade,medium,name,label,size_ml,price,currency,stock,swatch_lab
Oakfen,Fenland,artist,acrylic,Titanium White,PW6,60,6.50,EUR,9,
Oakfen,Fenland,artist,acrylic,Lemon Yellow,PY3,60,8.00,EUR,4,
Oakfen,Fenland,artist,acrylic,Yellow Medium,PY74,60,8.00,EUR,4,
Oakfen,Fenland,artist,acrylic,Phthalo Green,PG7,60,8.50,EUR,2,
Oakfen,Fenland,artist,acrylic,Ultramarine,PB29,60,8.50,EUR,2,
Oakfen,Fenland,artist,acrylic,Permanent Rose,PV19 (rose),60,11.00,EUR,2,
Oakfen,Fenland,artist,acrylic,Spring Green,"PY3, PG7, PW6",60,9.00,EUR,2,"70,-38,45"
Millrace,Weir,artist,acrylic,Quinacridone,PV19,60,10.00,EUR,2,
Millrace,Weir,artist,acrylic,Permanent Rose,PR209,60,10.00,EUR,2,
Millrace,Weir,student,acrylic,Mauve,PV23,75,4.00,EUR,5,
Oakfen,Fenland,artist,acrylic,Cadmium Red Hue,PR254,60,9.00,EUR,5,
Oakfen,Fenland,artist,oil,Ultramarine,PB29,37,9.50,EUR,2,
Oakfen,Fenland,artist,oil,Flake White,PW6,37,9.50,EUR,2,
Oakfen,Fenland,artist,oil,Permanent Rose,PV19 (rose),37,11.50,EUR,2,
Sillmere,Tarn,artist,acrylic,Old Rose,,60,5.00,EUR,1,
"""
SUPPLY = """slot,accept,medium,min_ml,note
White,PW6,acrylic,60,
Rose,PV19/gamma,acrylic,30,by code
Spring green,PY3 + PG7 + PW6,acrylic,30,
"""
MIXES = """mix,parts,aim
Heather,PV19/gamma 1 + PW6 4,clear
"""
# Seat 1 has a bare PV19 that is measured; seat 2 the same paint unmeasured, and a green of its own;
# seat 3 mixes its media.
BOXES = """seat,maker,line,grade,medium,name,label,size_ml,price,currency,stock,swatch_lab
1,Marlow,Reed,artist,acrylic,Quinacridone,PV19,60,,,,
1,Oakfen,Fenland,artist,acrylic,Titanium White,PW6,60,,,,
2,Gutterby,Reed,artist,acrylic,Quinacridone,PV19,60,,,,
2,Gutterby,Reed,artist,acrylic,Spring Green,"PY3, PG7, PW6",60,,,,"38,-34,10"
2,Oakfen,Fenland,artist,acrylic,Titanium White,PW6,60,,,,
3,Oakfen,Fenland,artist,acrylic,Titanium White,PW6,60,,,,
3,Oakfen,Fenland,artist,acrylic,Phthalo Green,PG7,60,,,,
3,Oakfen,Fenland,artist,acrylic,Lemon Yellow,PY3,60,,,,
3,Oakfen,Fenland,artist,oil,Ultramarine,PB29,37,,,,
3,Oakfen,Fenland,artist,oil,Flake White,PW6,37,,,,
3,Sillmere,Tarn,artist,acrylic,Old Rose,,60,,,,
"""
MEASURED_TUBE = "marlow-reed-acrylic-quinacridone-60ml"
NAME = "Heath"


def _without_seat(rows: list[str]) -> list[str]:
    return [row.partition(",")[2] for row in rows]


_HEADER, *_OWNED = BOXES.splitlines()
# Seat 3's box as a file of tubes, and every tube of the shop and the boxes in one catalogue.
SEAT_THREE = "\n".join(_without_seat([_HEADER, *(row for row in _OWNED if row[0] == "3")]))
EVERY_TUBE = CATALOGUE + "\n".join(
    _without_seat([row for row in _OWNED if "Marlow" in row or "Gutterby" in row])
)
FILES = {
    "catalogue.csv": CATALOGUE,
    "list.csv": SUPPLY,
    "list-mixes.csv": MIXES,
    "boxes.csv": BOXES,
    "seat-three.csv": SEAT_THREE,
    "every-tube.csv": EVERY_TUBE,
}
