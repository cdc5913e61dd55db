"""Sheets: results turned into pages and prints."""
