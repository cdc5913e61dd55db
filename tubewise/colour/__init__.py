"""Spectra on one grid to XYZ, CIELAB, CIEDE2000, sRGB, Munsell and words; knows no paint."""
