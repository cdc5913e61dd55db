"""What kind of paint a tube is, as every door says it beside its name."""

from __future__ import annotations

from tubewise.tubes.tube import Tube


def kind_text(tube: Tube) -> str:
    """`artist oil`, `student acrylic`, `watercolour`; "" where the tube says neither."""
    return " ".join(word for word in (tube.grade, tube.medium) if word)
