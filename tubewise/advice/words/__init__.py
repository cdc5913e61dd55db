"""One wording for all doors."""
