"""Every entry of every file that a person fills in has its label and help in the catalogue, and none has them twice."""

from __future__ import annotations

import importlib
import pkgutil

import pytest

import hatchwright.job
import hatchwright.workflow.quick.answers
from hatchwright.job.bracketed import Bracketed
from hatchwright.job.entry import Entered
from hatchwright.job.entry_words import about, help_of, label_of
from hatchwright.job.other_side import MirroredJob
from hatchwright.words.catalog import HOME, entries
from hatchwright.words.tell import tell

for package in (hatchwright.job, hatchwright.workflow.quick.answers):
    for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        importlib.import_module(module.name)


def below(model: type) -> set[type]:
    return {model, *(one for inner in model.__subclasses__() for one in below(inner))}


MODELS = sorted(
    (
        one
        for one in below(Entered) - {Entered, Bracketed, MirroredJob}
        if one.__module__.startswith(("hatchwright.job", "hatchwright.workflow.quick"))
    ),
    key=lambda model: model.__name__,
)
FIELDS = [(model, info.alias or name) for model in MODELS for name, info in model.model_fields.items()]


@pytest.mark.parametrize(("model", "name"), FIELDS, ids=lambda one: getattr(one, "__name__", one))
def test_an_entry_has_a_label_and_a_help(model, name):
    assert tell(label_of(model, name)).strip()
    assert tell(help_of(model, name)).strip()
    assert not any(info.description for info in model.model_fields.values()), "told in the model too"


def test_a_section_says_what_it_holds():
    silent = [model.__name__ for model in MODELS if not model.__name__.startswith("_")]
    assert all(tell(about(model)) for model in MODELS if model.__name__ in silent)


def test_no_word_of_an_entry_is_left_over():
    used = {ask(model, name).id for model, name in FIELDS for ask in (label_of, help_of)}
    used |= {about(model).id for model in MODELS}
    left = [
        one.id
        for one in entries(HOME)
        if one.id.startswith("entry.") and one.id.partition("@")[0] not in used
    ]
    assert left == []


def test_labels_of_one_section_differ():
    for model in MODELS:
        labels = [tell(label_of(model, name)) for of, name in FIELDS if of is model]
        assert len(labels) == len(set(labels)), model.__name__
