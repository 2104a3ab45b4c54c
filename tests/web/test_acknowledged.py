"""A caution is acknowledged on the page: folded, named with its reason, and open again when its number changes."""

from __future__ import annotations

import re
import tomllib


def form_of(html: str, code: str) -> dict[str, object]:
    """The boxes of the form below the line of one code."""
    for form in re.findall(r'<form method="post" class="acknowledge".*?</form>', html, re.S):
        numbers = re.findall(r'name="number" value="([^"]+)"', form)
        if any(number.startswith(f"{code}=") for number in numbers):
            return {"number": numbers, "base": re.search(r'name="base" value="([^"]*)"', form)[1]}
    raise AssertionError(f"no form for {code}")


def job(client) -> str:
    return client.get("/job/alder.toml/").content.decode()


def test_a_caution_is_folded_with_its_reason_and_comes_back_with_its_number(client, folder):
    before = job(client)
    asked = form_of(before, "R103")
    told = {**asked, "reason": "as the covers beside it", "initials": "RB"}
    answer = client.post("/job/alder.toml/acknowledged", told)
    assert answer.status_code == 302
    kept = tomllib.loads((folder / "alder.toml").read_text(encoding="utf-8"))["acknowledged"]
    assert {one["code"] for one in kept} == {"R103"}
    assert {(one["reason"], one["initials"]) for one in kept} == {("as the covers beside it", "RB")}
    after = job(client)
    assert "as the covers beside it" in after
    assert "R103=" not in after
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    assert 'inset = "' in text
    moved = re.sub(r'(\[cover\.screws\](?:.|\n)*?inset = ")[^"]+', r"\g<1>.33", text)
    assert moved != text
    (folder / "alder.toml").write_text(moved, encoding="utf-8")
    assert "R103=" in job(client)


def test_what_holds_work_back_has_no_such_form(client):
    html = job(client)
    assert "R101" in html
    assert "R101=" not in html


def test_without_a_reason_nothing_is_written(client, folder):
    before = (folder / "alder.toml").read_text(encoding="utf-8")
    told = {**form_of(job(client), "R103"), "reason": "", "initials": ""}
    assert client.post("/job/alder.toml/acknowledged", told).status_code == 409
    assert (folder / "alder.toml").read_text(encoding="utf-8") == before
