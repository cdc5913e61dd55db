"""The command line: a thin door to `tubewise.advice`. No rule of the trade lives here."""
