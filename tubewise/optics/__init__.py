"""Kubelka-Munk optics of paint films: surface, films, mixtures, hiding.

Everything here works on arrays of absorption K and scattering S over the bands of
`tubewise.colour.grid`, vectorised over leading axes; nothing here knows what a tube is.
"""
