# Needs Python 3.11 or newer with pip and venv; everything else is installed into .venv.
PYTHON ?= python3
BIN := .venv/bin

.PHONY: demo test test-all bench fit clean

demo: .venv/ready
	$(BIN)/tubewise demo --out demo-out

test: .venv/ready-to-test
	$(BIN)/ruff check tubewise tools tests bench
	$(BIN)/ruff format --check tubewise tools tests bench
	$(BIN)/mypy --strict tubewise tools bench
	$(BIN)/python -m pytest -n 2 --dist loadfile -m "not exhaustive" --cov --cov-report=
	$(BIN)/coverage report --skip-covered --fail-under=95 \
		--include='tubewise/colour/*,tubewise/optics/*,tubewise/search/*,tubewise/labels/*,tubewise/paints/*,tubewise/advice/*'

# Also the hundreds of random boxes against brute force, which take some minutes more.
test-all: test
	$(BIN)/python -m pytest -n 2 -m exhaustive

bench: .venv/ready-to-test
	$(BIN)/python -m bench

fit: .venv/ready
	$(BIN)/python -m tools.fit

.venv/ready: pyproject.toml constraints.txt
	$(PYTHON) -m venv .venv
	$(BIN)/python -m pip install -qq --constraint constraints.txt --editable .
	touch $@

.venv/ready-to-test: .venv/ready
	$(BIN)/python -m pip install -qq --constraint constraints.txt --editable '.[test]'
	touch $@

clean:
	rm -rf .venv build *.egg-info .pytest_cache .mypy_cache .ruff_cache demo-out bench-out
