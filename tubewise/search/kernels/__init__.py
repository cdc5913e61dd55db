"""Compiled functions of one mixture: reflectance, CIELAB, CIEDE2000, and the way to the best.

All are numba code over float64 arrays on the 36 bands of `tubewise.colour.grid`. They release the
interpreter's lock and run on one thread; callers spread batches over Python threads, which is safe
under any server or test runner, unlike numba's own threading layers. The plain layers `colour` and
`optics` say the same formulas for whole arrays; tests compare the two.
"""
