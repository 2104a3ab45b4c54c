"""The scripts say nothing of their own: every sentence comes with the page, and each that comes is said."""

from __future__ import annotations

import json
import re
from importlib.resources import files

import pytest

from web.job_pages import Document, JobPage

SCRIPTS = {
    "page": ("page.js",),
    "findings": ("at_rest.js", "findings.js"),
    "strength": ("at_rest.js", "strength.js"),
}


def source(*names: str) -> str:
    return "\n".join(
        files("hatchwright.web").joinpath("static", name).read_text(encoding="utf-8") for name in names
    )


@pytest.mark.parametrize("part", SCRIPTS)
def test_a_script_names_exactly_the_sentences_that_come_with_the_page(client, part):
    document = JobPage.opened(client).document
    holder = (
        next(one for one in document.elements if one.tag == "body")
        if part == "page"
        else document.by_id(part)
    )
    come = set(json.loads(holder.attributes["data-words"] or "{}"))
    assert come == set(re.findall(r"\bwords\.(\w+)", source(*SCRIPTS[part])))


def test_the_script_of_the_list_names_exactly_the_sentences_that_come_with_it(client):
    holder = Document(client.get("/").content.decode()).by_id("jobs")
    come = set(json.loads(holder.attributes["data-words"] or "{}"))
    assert come == set(re.findall(r"\bwords\.(\w+)", source("start.js")))


def test_no_script_holds_a_sentence():
    """Quoted text of two words or more that begins like a sentence."""
    scripts = source("page.js", "at_rest.js", "findings.js", "strength.js", "start.js")
    text = "\n".join(line.partition("//")[0] for line in scripts.splitlines())
    assert not re.findall(r"""["'`][A-Z][a-z]+ [a-z][^"'`]*["'`]""", text)
    assert "NOT " not in text
