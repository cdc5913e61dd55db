"""One file a step; each names the step before it."""
