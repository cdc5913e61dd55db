from __future__ import annotations

import json

import numpy as np
import pytest

from tests.measure.synthetic_drawdowns import files, masstone_and_tints, paint, white
from tubewise.errors import UserError
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.measured import MeasuredOptics, from_json
from tubewise.measure.references import Optics

WHITE = Optics(white().K, white().S, "the white")


@pytest.fixture(scope="module")
def measured() -> MeasuredOptics:
    rows = masstone_and_tints(paint(np.random.default_rng(4)), (2, 9), noise=0.002)
    return learn(drawdown_set(files(rows)), tube="marlow-studio-oil-rose-37ml", white=WHITE)


def test_json_gives_back_every_bit(measured: MeasuredOptics) -> None:
    text = measured.to_json()
    again = from_json(text)
    assert again.to_json() == text
    for name in ("K", "S", "local", "shared", "rms"):
        assert np.array_equal(getattr(again, name), getattr(measured, name))
    assert again.raw == measured.raw and again.films == measured.films
    assert again.conditions == measured.conditions


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"format": "something"}, "no file of measured optics"),
        ({"K": [1.0] * 35}, "shape"),
        ({"K": [-1.0] * 36}, "K holds a number"),
        ({"S": [float("nan")] * 36}, "S holds a number"),
        ({"K": [1e300] * 36}, "K holds a number"),
        ({"local": [[[1e300, 0.0], [0.0, 1e300]]] * 36}, "local holds a number"),
        ({"shared": [[[1e200, 1e200]] * 36]}, "shared holds a number"),
        ({"surface": [1e300, 0.65]}, "1e\\+300 isn't from 0 to 1"),
        ({"surface": [10**400, 0.65]}, "too large"),
        ({"rms": [1e300] * 36}, "rms holds a number"),
        ({"level": "guess"}, "unknown level"),
        ({"local": [[[0.0, 1.0], [1.0, 0.0]]] * 36}, "damaged"),
        ({"films": [{}]}, "damaged"),
        ({"surface": [0.03]}, "damaged"),
        ({"raw": None, "readings": 3}, "damaged"),
    ],
)
def test_damaged_files_are_refused(
    measured: MeasuredOptics, change: dict[str, object], words: str
) -> None:
    document = {**json.loads(measured.to_json()), **change}
    with pytest.raises(UserError, match=words):
        from_json(json.dumps(document), "m.json")


@pytest.mark.parametrize("value", [1e308, float("inf"), 10**400, "x", None, [0.1]])
@pytest.mark.parametrize("key", ["share", "delta_e00", "rms", "parts_error", "thickness"])
def test_a_films_numbers_are_numbers(measured: MeasuredOptics, key: str, value: object) -> None:
    document = json.loads(measured.to_json())
    document["films"][0][key] = value
    if key == "thickness" and value is None:
        assert from_json(json.dumps(document)).films[0].thickness is None
        return
    with pytest.raises(UserError, match="damaged"):
        from_json(json.dumps(document))


@pytest.mark.parametrize(("key", "value"), [("reflectance", 1e308), ("wavelengths_nm", 10**400)])
def test_a_readings_numbers_are_numbers(measured: MeasuredOptics, key: str, value: float) -> None:
    document = json.loads(measured.to_json())
    document["readings"][0][key][0] = value
    with pytest.raises(UserError, match="damaged"):
        from_json(json.dumps(document))


@pytest.mark.parametrize("text", ["", "[1]", "{}", "nonsense", "[" * 100_000])
def test_other_files_are_refused(text: str) -> None:
    with pytest.raises(UserError):
        from_json(text)


def test_draws_begin_with_the_best_and_spread_by_the_covariance(measured: MeasuredOptics) -> None:
    K, S = measured.draws(4000, np.random.default_rng(0))
    assert K.shape == S.shape == (4001, 36)
    assert np.array_equal(K[0], measured.K)
    variance = measured.local[:, 0, 0] + (measured.shared[..., 0] ** 2).sum(axis=0)
    np.testing.assert_allclose(np.log(K[1:]).var(axis=0), variance, rtol=0.15)


def test_the_summary_says_when_with_what_and_how_well(measured: MeasuredOptics) -> None:
    assert measured.summary.startswith("measured: two constants from 3 drawdowns, met to CIEDE2000")
