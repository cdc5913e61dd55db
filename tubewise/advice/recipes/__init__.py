"""Which tubes, in what parts, make a colour."""
