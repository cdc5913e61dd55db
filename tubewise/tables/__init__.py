"""Spreadsheets in and out, of anything: cells, text files, workbooks, headers."""
