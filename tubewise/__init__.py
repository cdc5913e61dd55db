"""Pigment by pigment: what is in a tube, what it mixes to, and whether a box will do."""
