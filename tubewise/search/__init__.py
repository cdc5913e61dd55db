"""Plain arrays of K, S and a target to proportions, proved. Knows nothing of pigments.

`recipes.search` and `batch.search_many` are its two doors.
"""
