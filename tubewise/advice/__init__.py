"""Advice: compare, stand-ins, recipes, class check and names that mislead.

Every function takes plain objects (tubes, lists, terms) and returns frozen results that know
their JSON (`to_json`) and how to show themselves in a notebook (`_repr_html_`).
"""
