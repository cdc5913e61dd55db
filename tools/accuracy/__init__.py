"""How near the optics come to published measurements, and how wide: `python -m tools.accuracy`.

Each measured pigment is left out in turn (then its whole family), fitted from recalled facts and
what its relatives show, and held against its measurement (`leave_out`, `checks`). The old oil
paints, fitted by the package's own path for measurements, are held against their mixtures with bone
black (`oil_mixtures`). `report` makes tables of it all.
"""
