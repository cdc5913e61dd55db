"""What stands in for every tube that a chain of shops sells."""
