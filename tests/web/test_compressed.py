"""How much a browser receives, and which answers are compressed."""

from __future__ import annotations

import gzip
import re

ALDER = "/job/alder.toml/"
GZIP = {"Accept-Encoding": "gzip, deflate, br"}
MOST_BYTES = 150_000


def fetched(client, address, **headers):
    answer = client.get(address, headers=GZIP | headers)
    is_packed = answer.headers.get("Content-Encoding") == "gzip"
    return answer.content, gzip.decompress(answer.content) if is_packed else answer.content


def test_the_first_visit_of_a_job_weighs_less_than_150_kb(client):
    sent, page = fetched(client, ALDER)
    assert b"</html>" in page
    beside = sorted(set(re.findall(r'(?:src|href)="(/static/[^"]+)"', page.decode())))
    assert {address.rpartition("/")[2] for address in beside} >= {"page.css", "page.js", "htmx.js"}
    assert len(sent) + sum(len(fetched(client, address)[0]) for address in beside) < MOST_BYTES


def test_a_compressed_page_is_the_page(client):
    address = "/job/alder.toml/passed"
    assert fetched(client, address)[1] == client.get(address).content


def test_what_answers_a_key_is_not_kept_waiting_by_compressing(client):
    sent, page = fetched(client, "/job/alder.toml/passed", **{"HX-Request": "true"})
    assert sent == page


def test_the_token_of_a_form_is_masked_anew_in_each_page(client):
    """So that no text beside it, repeated in many answers, can be matched against it by their length."""
    pages = [fetched(client, ALDER)[1].decode() for _ in range(2)]
    first, second = (re.findall(r'name="csrfmiddlewaretoken" value="(\w+)"', page)[0] for page in pages)
    assert first != second
