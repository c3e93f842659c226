# make demo   install into .venv and run the main job on a shipped example
# make test   install what tests need and run them all
# make check  lint, format, types, generated documents and tests
# make docs   write the generated documents anew
# make bench  speed of the commands and of matching, beside simpler methods
PYTHON ?= python3
VENV ?= .venv
BIN := $(VENV)/bin

# Published tables and worked examples that the package may not ship; tests that need them skip without the folder.
ifneq ($(wildcard ../shared/reference),)
export MEALCALC_REFERENCE_DATA ?= $(abspath ../shared)
endif

.PHONY: demo test check check-style bench docs clean

demo: $(VENV)/installed
	@echo
	@echo '$$ mealcalc macros mealcalc/examples/smoky-bean-turkey.batch.yaml'
	@$(BIN)/mealcalc macros mealcalc/examples/smoky-bean-turkey.batch.yaml

test: $(VENV)/installed-dev
	$(BIN)/python -m pytest

check: check-style test

check-style: $(VENV)/installed-dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

bench: $(VENV)/installed-dev
	$(BIN)/python -m benchmarks

docs: $(VENV)/installed-dev
	$(BIN)/python -m tests.documents
	$(BIN)/python -m tests.published.agreement_cooked

clean:
	rm -rf $(VENV) build *.egg-info .mypy_cache .ruff_cache .pytest_cache .hypothesis

$(VENV)/installed: pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit("mealcalc needs Python 3.11 or newer; say: make PYTHON=python3.12 demo" if sys.version_info < (3, 11) else 0)'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable .
	@touch $@

$(VENV)/installed-dev: $(VENV)/installed
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[dev]'
	@touch $@
