"""The kinds of warning a reading can carry, one table."""

from __future__ import annotations

from typing import Final

UNKNOWN_CODE: Final = "unknown-code"
CODE_NUMBER_DISAGREE: Final = "code-number-disagree"
AMBIGUOUS_NUMBER: Final = "ambiguous-number"
NEEDS_SUFFIX: Final = "needs-suffix"
NEEDS_FORM: Final = "needs-form"
SHORTHAND: Final = "shorthand"
MAYBE_SOMETHING_ELSE: Final = "maybe-something-else"
LIKELY_MISREAD: Final = "likely-misread"
HUE_PAINT: Final = "hue-paint"
MISLEADING_NAME: Final = "misleading-name"
SHADE_DISAGREES: Final = "shade-disagrees"
MORE_THAN_NAMED: Final = "more-than-named"
DYE: Final = "dye"
HUE_DISAGREES: Final = "hue-disagrees"
NOTHING_DECLARED: Final = "nothing-declared"

KINDS: Final[dict[str, str]] = {
    UNKNOWN_CODE: "a code or constitution number that the register does not list",
    CODE_NUMBER_DISAGREE: "the code and the constitution number beside it are of two pigments",
    AMBIGUOUS_NUMBER: "a constitution number alone, shared by several pigments",
    NEEDS_SUFFIX: "a code that covers several pigments without the figure that tells which (PB15)",
    NEEDS_FORM: "a code that covers visibly different colours, and nothing printed tells which",
    SHORTHAND: "a bare number after a code that may continue it (PY3, 74); it is not read",
    MAYBE_SOMETHING_ELSE: "a code that may as well be a price group, a number or a note",
    LIKELY_MISREAD: "not a code, but one or two easily confused characters away from one",
    HUE_PAINT: "the name says openly that it only imitates a pigment, which is not inside",
    MISLEADING_NAME: "the name promises a pigment that is not declared, and does not say 'hue'",
    SHADE_DISAGREES: "the name gives a shade that the code is not sold as (red shade, PB15:3)",
    MORE_THAN_NAMED: "the name is that of one pigment, and others are in it too",
    DYE: "a dye by its Colour Index name, as inks hold; no pigment, and most of them fade",
    HUE_DISAGREES: "no declared pigment, nor their mixture, gives the colour that the name says",
    NOTHING_DECLARED: "no pigment code or constitution number was found",
}
