"""Pictures from outside: opened within bounds, upright, in a process apart."""
