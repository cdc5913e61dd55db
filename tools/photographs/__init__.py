"""What photographs give, measured on rendered ones: docs/photographs.md shows the figures."""
