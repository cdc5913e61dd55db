"""Work in a process of its own, which may be ended."""
