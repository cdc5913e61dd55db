"""What people ask at the counter: what a label says, which tubes there are, which are kin."""
