"""Print how near the optics come to published measurements: `python -m tools.accuracy`."""

from __future__ import annotations

from tools.accuracy.checks import checks
from tools.accuracy.leave_out import left_out, measured_pigments
from tools.accuracy.oil_mixtures import OIL_SURFACE, foretold
from tools.accuracy.report import by_pigment, oil_table, recollection, summary
from tools.accuracy.verdicts import verdict_table, verdicts
from tools.fit.facts import read_facts
from tubewise.optics.surface import GLOSS


def main() -> None:
    """Print all tables."""
    facts = read_facts()
    truths = measured_pigments(facts)
    print("What recalled facts are worth:\n")
    print(recollection(facts, truths), "\n")
    for title, family in (("Each pigment left out", False), ("Each family left out", True)):
        models = left_out(facts, family=family)
        found = list(checks(models, truths))
        print(f"{title}:\n")
        print(summary(found), "\n")
        if not family:
            print(by_pigment(found), "\n")
            print("Verdicts on pairs of which one is left out:\n")
            print(verdict_table(list(verdicts(models, truths))), "\n")
    for title, surface in (
        ("Oil paints with the surface of linseed oil (K2 = 0.596)", OIL_SURFACE),
        ("Oil paints with the surface that all predictions take (K2 = 0.65)", GLOSS),
    ):
        print(f"{title}:\n")
        print(oil_table(list(foretold(surface))), "\n")


if __name__ == "__main__":
    main()
