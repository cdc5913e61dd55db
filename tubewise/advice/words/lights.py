"""What a change of light does to a match, as every door says it."""

from __future__ import annotations

# How the lights of CIE 015 are met in life; FL2, FL11 and LED-B3 are its typical lamps.
_LIGHTS = {
    "D50": "warmer daylight",
    "A": "incandescent lamp",
    "FL2": "cool white tube",
    "FL11": "narrow-band tube",
    "LED-B3": "LED lamp",
}
# A change of light that parts two colours by more shows to a trained eye side by side.
_SHIFTS = 1.0


def light_text(light: str) -> str:
    """Where people meet a light: `incandescent lamp` for A; else the light's own name."""
    return _LIGHTS.get(light, light)


def shift_text(index: float) -> str:
    """`holds` or `shifts`, by the special index of metamerism in CIEDE2000."""
    return "holds" if index <= _SHIFTS else "shifts"
