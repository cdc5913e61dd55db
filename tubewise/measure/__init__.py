"""One's own measurements: spectra from instruments' files, drawdowns of a paint, and its K and S.

Readers (`cgats`, `cxf`, `spectral_csv`) give `spectra`; `drawdowns` says which spectrum is which
film; `fit` finds K and S; `attach` keeps the result with its tube.
"""
