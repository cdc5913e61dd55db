"""The web app of `tubewise serve`: a thin door to the same advice as the command line."""
