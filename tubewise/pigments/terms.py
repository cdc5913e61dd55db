"""The words that the register's columns may hold."""

BINDERS = ("acrylic", "oil", "watercolour", "gouache")
HUES = (
    "yellow",
    "orange",
    "red",
    "violet",
    "blue",
    "green",
    "brown",
    "black",
    "white",
    "metallic",
)
OPACITIES = ("transparent", "semi-transparent", "semi-opaque", "opaque")
NEEDS = ("", "suffix", "form")
CATEGORIES = ("I", "II", "III", "IV", "V", "not rated")
NOT_RATED = "not rated"
CAUTION_KINDS = (
    "cadmium",
    "cobalt",
    "lead",
    "nickel",
    "manganese",
    "chromate",
    "mercury",
    "arsenic",
    "copper",
    "antimony",
    "barium",
    "zinc",
    "vanadium",
    "silica",
    "dust",
    "heating",
    "fire",
    "swallowing",
    "general",
)
APPLIES = ("dust", "spraying", "sanding", "heating", "swallowing", "skin", "children", "waste")
NOTE_KINDS = (
    "fugitive",
    "fugitive in tints",
    "fugitive in washes",
    "depends on the grade",
    "darkens in light",
    "blackens with sulphur",
    "sensitive to alkali",
    "sensitive to acid",
    "bleeds",
    "brittle film",
    "historic",
)
