"""A quick answer as plain values for programs, documented in docs/quick-json.md."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.quick.answer import Answer, Quick
from hatchwright.workflow.quick.book import entries_of
from hatchwright.workflow.report import picked, plain

SCHEMA = 1
"""Number of the schema of an answer, and of a list of them."""


def quick_values(one: Quick, typed: Mapping[str, str], answer: Answer, unit: Unit) -> dict[str, Any]:
    """An answer with what it was made of."""
    return {
        "schema": SCHEMA,
        "answer": one.name,
        "title": tell(one.title),
        "units": unit,
        "entries": {name: text for name, text in typed.items() if text.strip()},
        "status": plain(answer.worst, unit),
        **picked(answer, unit, "findings"),
        "numbers": [
            {"what": tell(told.what, unit), "value": tell(told.value, unit), **picked(told, unit, "working")}
            for told in answer.told
        ],
        **picked(answer, unit, "open"),
    }


def asked_values(*answers: Quick) -> dict[str, Any]:
    """The answers there are, each with what it asks."""
    return {"schema": SCHEMA, "answers": [_asked(one) for one in answers]}


def _asked(one: Quick) -> dict[str, Any]:
    return {
        "name": one.name,
        "title": tell(one.title),
        "about": tell(one.about),
        "entries": [
            {
                "name": field.name,
                "label": field.label,
                "help": field.help,
                "required": field.required,
                "kind": field.kind,
                "choices": list(field.choices),
            }
            for field in entries_of(one)
        ],
    }
