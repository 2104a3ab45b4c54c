# make setup | make run | make test | make lint | make types | make bench
# Each does all the set-up it needs; from another folder with make -C.
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.ONESHELL:
PYTHON ?= python3
override VENV := .venv
PY := $(VENV)/bin/python
JOBS ?= jobs
JOB ?= $(JOBS)/juniper.toml
export PIP_DISABLE_PIP_VERSION_CHECK := 1

.PHONY: setup setup-dev run test lint types bench clean

ifeq ($(wildcard tools/install),)
$(error Call make in the folder of its Makefile, or name that folder: make -C FOLDER)
endif

# An environment knows its place and its Python: with another of either it is set up anew, for what is installed in it points
# to the old ones. All that a moved one needs is there already, so that no network is. Its own scripts point to the old place
# too: python -m does not.
ITS_PLACE := (cd $(VENV) 2>/dev/null && pwd -P && readlink -f bin/python)
ifneq ($(shell $(ITS_PLACE) | cmp -s - $(VENV)/place && echo same),same)
.PHONY: $(VENV)/run.stamp $(VENV)/dev.stamp
endif

setup: $(VENV)/run.stamp
setup-dev: $(VENV)/dev.stamp

$(VENV)/run.stamp: requirements.lock pyproject.toml
	@"$(PYTHON)" tools/install $(PY) requirements.lock .
	@touch $@ && $(ITS_PLACE) > $(VENV)/place

$(VENV)/dev.stamp: requirements-dev.lock pyproject.toml
	@"$(PYTHON)" tools/install $(PY) requirements-dev.lock .
	@touch $@ $(VENV)/run.stamp && $(ITS_PLACE) > $(VENV)/place

run: setup
	@mkdir -p "$(JOBS)" && for example in examples/*.toml; do
	@    test -e "$(JOBS)/$${example##*/}" || cp "$$example" "$(JOBS)/"
	@done
	@exec $(PY) -m hatchwright run "$(JOB)"

lint: setup-dev
	@$(PY) -m ruff check . && $(PY) -m ruff format --check .

types: setup-dev
	@$(PY) -m mypy

test: setup-dev
	@tools/browser && tools/postgres
	@$(PY) -m ruff check . && $(PY) -m mypy
	@$(PY) -m pytest -n 2 --dist worksteal

bench: setup-dev
	@for b in benchmarks/bench_*.py; do echo "== $$b"; $(PY) "$$b"; done

clean:
	@rm -rf $(VENV) out
