"""Photographs of tubes to readings of their labels, doubts shown on the picture."""
