"""Fit the optics of every pigment to what is known of it: `python -m tools.fit`.

Published measurements become curves of K and S (`measured`, by way of `acrylics` and `oils`). All
other pigments are fitted to the facts in data/optics_facts.csv (`pigment`), each within its family
(`families`), and for each it is worked out how far a paint of it may stray (`posterior`). The same
data give the same files.
"""
