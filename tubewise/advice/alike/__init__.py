"""How two paints compare: identity, behaviour, verdicts, stand-ins, names that mislead."""
