"""`hatchwright quick`, run as a person runs it: without a job file, in any folder."""

from __future__ import annotations

import json
import re

import pypdfium2

from hatchwright.workflow.quick.book import quick_names

EDGE = ("--fastener", "MS20470AD4", "--distance", ".2375")


def test_without_a_name_every_question_is_listed(shell):
    status, out, err = shell("quick")
    assert (status, err) == (0, "")
    assert re.findall(r"^(\w+)  ", out, re.MULTILINE) == list(quick_names())


def test_a_name_alone_says_what_it_asks(shell):
    status, out, err = shell("quick", "template")
    assert (status, err) == (0, "")
    assert "--cut-width  Width of cut" in out
    assert "One of: female or male." in " ".join(out.split())
    assert "May be left out." in " ".join(shell("quick", "edge")[1].split())


def test_an_answer_ends_as_a_check_does(shell):
    status, out, err = shell("quick", "edge", *EDGE)
    assert (status, err) == (1, "")
    assert "STOP  R101" in out
    assert "1.90D of 2D, .013 short." in " ".join(out.split())
    assert "AL0992" in out
    assert "not approved data" in out
    assert shell("quick", "edge", "--fastener=MS20470AD4", "--distance=.40")[0] == 0


def test_a_value_may_begin_with_a_dash(shell):
    typed = ("--empty-weight", "1438", "--empty-arm", "-12", "--arm", "-3", "--weight", ".42", "--json")
    status, out, _ = shell("quick", "cg", *typed)
    assert status == 0
    assert json.loads(out)["entries"]["empty_arm"] == "-12"


def test_json_is_the_same_answer(shell):
    status, out, _ = shell("quick", "edge", *EDGE, "--json")
    answer = json.loads(out)
    assert (status, answer["status"], answer["answer"], answer["schema"]) == (1, "stop", "edge", 1)
    assert answer["findings"][0]["limit"] == 0.25
    assert all(number["working"] for number in answer["numbers"])
    asked = json.loads(shell("quick", "--json")[1])["answers"]
    assert [one["name"] for one in asked] == list(quick_names())


def test_a_page_to_print_is_written_with_date_and_what_it_is_not(shell, tmp_path):
    status, out, _ = shell("quick", "edge", *EDGE, "--out", tmp_path)
    (made,) = tmp_path.glob("*.pdf")
    assert (status, made.name) == (1, "QUICK_EDGE_LETTER.pdf")
    assert str(made) in out
    paper = pypdfium2.PdfDocument(made)
    assert len(paper) == 1
    words = " ".join(paper[0].get_textpage().get_text_bounded().split())
    for told in (
        "CALCULATION AID: NOT APPROVED DATA",
        "STOP",
        ".2375 in",
        "1.90D of 2D",
        "AL0992",
        "Page 1 of 1",
    ):
        assert told in words
    assert shell("quick", "edge", *EDGE, "--out", tmp_path)[0] in (1, 2)  # as of another minute, or refused


def test_an_outline_is_printed_at_true_size(shell, tmp_path):
    shell("quick", "hand", "--width", "4", "--height", "3", "--radius", ".5", "--out", tmp_path)
    names = sorted(path.name for path in tmp_path.glob("*.pdf"))
    assert names == ["QUICK_HAND_LETTER.pdf", "QUICK_HAND_TRUE_SIZE_LETTER.pdf"]


def test_what_is_wrong_is_refused_by_the_option_that_was_written(shell, tmp_path):
    status, out, err = shell(
        "quick", "edge", "--fastener", "MS20470AD4", "--distance", "30 deg", "--out", tmp_path
    )
    assert (status, out) == (2, "")
    assert "--distance: 'deg' is not a unit of length here (given: 30 deg). Write in or mm." in err
    assert not list(tmp_path.iterdir())
    for typed, told in (
        (("egde",), "Use edge"),
        (("edge", "--fastner", "MS20470AD4"), "no such entry"),
        (("edge", "--fastener"), "no value behind it"),
        (("edge", *EDGE, "--distance", ".3"), "entered twice"),
        (("edge", "MS20470AD4"), "no such entry"),
        (("edge", *EDGE, "--units", "cm"), "'cm' is not one of"),
    ):
        status, out, err = shell("quick", *typed)
        assert (status, out) == (2, ""), typed
        assert told in err, typed
