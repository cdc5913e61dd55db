# Needs Python 3.11 or newer with pip and venv; everything else is installed into .venv.
PYTHON ?= python3
BIN := .venv/bin

.PHONY: demo quick lint test test-all installed kills fuzz bench fit clean

demo: .venv/ready
	$(BIN)/tubewise demo --out demo-out

# What takes under a minute: lint, layers, types, and every test that is not marked slow. The tests'
# bytecode is kept even where the environment says not to, since making it anew takes a quarter of it.
quick: .venv/ready-to-test lint
	PYTHONDONTWRITEBYTECODE= $(BIN)/python -m pytest -n 2 --dist loadfile -m "not slow and not browser and not exhaustive"

lint: .venv/ready-to-test
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/lint-imports
	$(BIN)/mypy
	$(BIN)/python -m bandit -q -c pyproject.toml -r tubewise tools bench

test: .venv/ready-to-test lint
	$(BIN)/python -m pytest -n 2 --dist loadfile -m "not exhaustive" --cov --cov-report=
	$(BIN)/coverage report --skip-covered --fail-under=95 \
		--include='tubewise/colour/*,tubewise/optics/*,tubewise/search/*,tubewise/labels/*,tubewise/paints/*,tubewise/advice/*'

# Also the hundreds of random boxes against brute force, which take some minutes more.
test-all: test
	$(BIN)/python -m pytest -n 2 -m exhaustive

# The wheel in a fresh environment that nobody may write to, run by a user who owns nothing.
installed: .venv/ready-to-test
	$(BIN)/python -m tools.installed

# Writers of the store killed at random moments, for ten minutes.
kills: .venv/ready-to-test
	$(BIN)/python -m tools.kills --minutes 10

# Every reader of a stranger's file is fed what no stranger would write: ten minutes each, or SECONDS.
# Guided by what it covers where atheris installs, else blindly.
SECONDS ?= 600
fuzz: .venv/ready-to-test
	-$(BIN)/python -m pip install -qq --constraint constraints.txt --editable '.[fuzz]'
	$(BIN)/python -m tools.fuzz --seconds $(SECONDS)

bench: .venv/ready-to-test
	$(BIN)/python -m bench

fit: .venv/ready-to-test
	$(BIN)/python -m tools.fit

.venv/ready: pyproject.toml constraints.txt
	$(PYTHON) -m venv .venv
	$(BIN)/python -m pip install -qq --constraint constraints.txt --editable .
	touch $@

.venv/ready-to-test: .venv/ready
	$(BIN)/python -m pip install -qq --constraint constraints.txt --editable '.[test,photos]'
	touch $@

clean:
	rm -rf .venv build *.egg-info .pytest_cache .mypy_cache .ruff_cache demo-out bench-out fuzz-out
