"""Measurements: sent, fitted, accepted or refused, set aside and taken up again."""

from __future__ import annotations

import html
import re

import numpy as np

from tests.web.conftest import Visitor
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.paints.appearance import appearance
from tubewise.pigments.models import optics

ROSE = "thornquay-wherry-acrylic-permanent-rose-60ml"


def readings() -> bytes:
    """A masstone and a tint as an instrument would give them, of a paint twice our model's."""
    pigment, white = optics("PV19/gamma"), optics("PW6")
    rows = ["sample," + ",".join(f"{nm:g}" for nm in WAVELENGTHS_NM)]
    for sample, share in (("masstone", 1.0), ("tint 1:4", 0.2), ("tint 1:9", 0.1)):
        K = share * 2.0 * pigment.K + (1 - share) * white.K
        S = share * 2.0 * pigment.S + (1 - share) * white.S
        R = np.asarray(appearance(K, S))
        rows.append(sample + "," + ",".join(f"{r:.5f}" for r in R))
    return "\n".join(rows).encode()


def fitted(owner: Visitor) -> str:
    """Send the readings; the address of the fit that waits."""
    answer = owner.send(
        f"/measurements/{ROSE}", files={"file": ("rose.csv", readings())}, specular="included"
    )
    return html.unescape(answer.headers["location"])


def test_the_way_to_a_measured_tube(owner: Visitor) -> None:
    assert "No tube has been measured yet" in owner.get("/measurements")
    assert "has not been measured" in owner.get(f"/measurements/{ROSE}")
    where = fitted(owner)
    page = owner.get(where)
    assert "What the readings say" in page and "tint 1:4" in page and "worst band" in page
    page = owner.follow(owner.send(f"{where}/accept"))
    assert "Measurement 1 is in use now" in page and "Set it aside" in page
    assert "measured" in owner.get(f"/tubes/{ROSE}").split("confidence")[0]
    assert ROSE in owner.get("/measurements")
    owner.get(where, status=404)


def test_a_refused_fit_changes_nothing(owner: Visitor) -> None:
    where = fitted(owner)
    page = owner.follow(owner.send(f"{where}/refuse"))
    assert "nothing has changed" in page and "has not been measured" in page
    owner.send(f"{where}/accept", 404)


def test_a_measurement_is_set_aside_and_taken_up(owner: Visitor) -> None:
    owner.send(f"{fitted(owner)}/accept")
    page = owner.follow(owner.send(f"/measurements/{ROSE}/withdraw", version="1"))
    assert "withdrawn" in page and "Use it again" in page
    assert "Set it aside" in owner.follow(
        owner.send(f"/measurements/{ROSE}/reinstate", version="1")
    )
    owner.send(f"/measurements/{ROSE}/reinstate", 422, version="7")


def test_readings_nobody_can_fit(owner: Visitor) -> None:
    answer = owner.send(f"/measurements/{ROSE}", 422, files={"file": ("x.csv", b"a,b\n1,2\n")})
    assert "That did not work" in answer.text
    owner.send(f"/measurements/{ROSE}", 422, files={"file": ("x.png", b"a,b\n1,2\n")})


def test_a_list_of_drawdowns_to_fill_in(owner: Visitor) -> None:
    answer = owner.client.get("/measurements.template")
    assert answer.headers["content-type"].startswith("text/csv") and "sample" in answer.text


def test_a_tube_is_chosen_from_the_list(owner: Visitor) -> None:
    assert "has not been measured" in owner.get(f"/measurements/of?tube={ROSE}")
    owner.get("/measurements/of?tube=", status=422)
    assert re.search("no such tube", owner.get("/measurements/of?tube=nope", status=404))
