"""The pictures of the README and of docs/, made by the tool itself."""
