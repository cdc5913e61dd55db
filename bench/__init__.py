"""Timings of ours beside a reference way, measured side by side in one run."""
