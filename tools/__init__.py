"""Run by hand from the repository, never shipped: fits, accuracy, data tables, pictures."""
