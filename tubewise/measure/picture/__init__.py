"""Daubs on a photograph beside something known to CIELAB, with an uncertainty that was measured."""
