# make setup | make run | make test | make lint | make types | make bench
# Each does all the set-up it needs and may be called from any folder with make -C.
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.ONESHELL:
ROOT := $(dir $(abspath $(lastword $(MAKEFILE_LIST))))
VENV := $(ROOT).venv
PY := $(VENV)/bin/python
JOBS ?= $(ROOT)jobs
JOB ?= $(JOBS)/juniper.toml
export PIP_DISABLE_PIP_VERSION_CHECK := 1

.PHONY: setup setup-dev run test lint types bench clean

setup: $(VENV)/run.stamp
setup-dev: $(VENV)/dev.stamp

$(VENV)/bin/python:
	@python3 -c 'import sys; assert sys.version_info >= (3, 11), "Python 3.11 or newer is needed"'
	@python3 -m venv "$(VENV)" || { echo "python3 -m venv failed: on Debian install python3-venv"; exit 1; }

$(VENV)/run.stamp: $(VENV)/bin/python $(ROOT)requirements.lock $(ROOT)pyproject.toml
	@"$(ROOT)tools/install" "$(PY)" "$(ROOT)requirements.lock" "$(ROOT)"
	@touch "$@"

$(VENV)/dev.stamp: $(VENV)/bin/python $(ROOT)requirements-dev.lock $(ROOT)pyproject.toml
	@"$(ROOT)tools/install" "$(PY)" "$(ROOT)requirements-dev.lock" "$(ROOT)"
	@touch "$@" "$(VENV)/run.stamp"

run: setup
	@mkdir -p "$(JOBS)" && for example in "$(ROOT)"examples/*.toml; do
	@    test -e "$(JOBS)/$$(basename "$$example")" || cp "$$example" "$(JOBS)/"
	@done
	@"$(VENV)/bin/hatchwright" run "$(JOB)"

lint: setup-dev
	@cd "$(ROOT)" && "$(VENV)/bin/ruff" check . && "$(VENV)/bin/ruff" format --check .

types: setup-dev
	@cd "$(ROOT)" && "$(VENV)/bin/mypy"

test: setup-dev
	@cd "$(ROOT)" && "$(ROOT)tools/browser"
	@cd "$(ROOT)" && "$(VENV)/bin/ruff" check . && "$(VENV)/bin/mypy"
	@cd "$(ROOT)" && "$(PY)" -m pytest -n 2 --dist worksteal

bench: setup-dev
	@cd "$(ROOT)" && for b in benchmarks/bench_*.py; do echo "== $$b"; "$(PY)" "$$b"; done

clean:
	@rm -rf "$(VENV)" "$(ROOT)out"
