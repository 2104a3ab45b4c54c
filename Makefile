# make setup | make run | make test | make lint | make types | make bench
# Each does all the set-up it needs and may be called from any folder with make -C.
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.ONESHELL:
VENV := .venv
PY := $(VENV)/bin/python
JOBS ?= jobs
JOB ?= $(JOBS)/juniper.toml
export PIP_DISABLE_PIP_VERSION_CHECK := 1

.PHONY: setup setup-dev run test lint types bench clean

# An environment knows its place: moved or copied with its folder it is set up anew, for what is installed in it points to the
# old one. All that it needs is there already, so that no network is. Its own scripts point there too: python -m does not.
THERE := $(shell cd $(VENV) 2>/dev/null && pwd -P)
ifneq ($(shell cat $(VENV)/place 2>/dev/null),$(THERE))
.PHONY: $(VENV)/run.stamp $(VENV)/dev.stamp
endif

setup: $(VENV)/run.stamp
setup-dev: $(VENV)/dev.stamp

$(VENV)/bin/python:
	@python3 -c 'import sys; sys.exit("Python 3.11 or newer is needed" if sys.version_info < (3, 11) else 0)'
	@python3 -m venv $(VENV) || { echo "python3 -m venv failed: on Debian install python3-venv"; exit 1; }

$(VENV)/run.stamp: $(VENV)/bin/python requirements.lock pyproject.toml
	@tools/install $(PY) requirements.lock .
	@touch $@ && (cd $(VENV) && pwd -P > place)

$(VENV)/dev.stamp: $(VENV)/bin/python requirements-dev.lock pyproject.toml
	@tools/install $(PY) requirements-dev.lock .
	@touch $@ $(VENV)/run.stamp && (cd $(VENV) && pwd -P > place)

run: setup
	@mkdir -p "$(JOBS)" && for example in examples/*.toml; do
	@    test -e "$(JOBS)/$$(basename "$$example")" || cp "$$example" "$(JOBS)/"
	@done
	@$(PY) -m hatchwright run "$(JOB)"

lint: setup-dev
	@$(PY) -m ruff check . && $(PY) -m ruff format --check .

types: setup-dev
	@$(PY) -m mypy

test: setup-dev
	@tools/browser
	@$(PY) -m ruff check . && $(PY) -m mypy
	@$(PY) -m pytest -n 2 --dist worksteal

bench: setup-dev
	@for b in benchmarks/bench_*.py; do echo "== $$b"; $(PY) "$$b"; done

clean:
	@rm -rf $(VENV) out
