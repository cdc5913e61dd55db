"""Tubes, boxes and supply lists as values, and what people type read into them."""
