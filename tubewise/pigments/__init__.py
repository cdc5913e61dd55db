"""The pigment register: codes, forms, permanence, cautions, and a model of each pigment's optics.

Light on import: `tubewise.pigments.register` needs only the standard library.
"""
