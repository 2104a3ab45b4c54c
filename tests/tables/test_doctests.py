"""The examples in the docstrings of the tables hold."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import hatchwright.tables

NAMES = [module.name for module in pkgutil.iter_modules(hatchwright.tables.__path__)]


@pytest.mark.parametrize("name", NAMES)
def test_docstring_examples(name: str) -> None:
    failures, _ = doctest.testmod(importlib.import_module(f"hatchwright.tables.{name}"))
    assert failures == 0
