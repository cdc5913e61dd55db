"""The pages, one module for each name in the menu."""
