"""Catalogues, boxes, supply lists and measurements kept in a database."""
