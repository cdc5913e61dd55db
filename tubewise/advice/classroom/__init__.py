"""A supply list held against everybody's boxes."""
