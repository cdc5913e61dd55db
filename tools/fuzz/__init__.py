"""Every reader of a file is fed what no person would write, for a while (make fuzz)."""
