"""Quick answers on the page: every question, its answer as one types, its papers, and what is refused."""

from __future__ import annotations

from urllib.parse import urlencode

import pypdfium2
import pytest

from hatchwright.workflow.quick.book import quick_names
from web.job_pages import Document
from workflow.test_quick import ASKED


def query(name: str, **changes: str) -> str:
    return urlencode({f"job.{entry}": text for entry, text in {**ASKED[name], **changes}.items()})


def test_the_start_page_leads_to_every_question(client):
    assert 'href="/quick"' in client.get("/").content.decode()
    listed = client.get("/quick").content.decode()
    assert [name for name in quick_names() if f'href="/quick/{name}/"' not in listed] == []


@pytest.mark.parametrize("name", ASKED)
def test_a_question_is_answered_where_enough_is_entered(client, name):
    bare = client.get(f"/quick/{name}/").content.decode()
    assert "Still to enter: " in bare
    assert "numbers" not in [one.attributes.get("class") for one in Document(bare).by_class("numbers")]
    whole = client.get(f"/quick/{name}/?{query(name)}").content.decode()
    part = client.get(f"/quick/{name}/answer?{query(name)}").content.decode()
    assert Document(whole).by_class("numbers")
    assert Document(part).by_class("numbers")
    assert "<form" not in part
    assert all(f'value="{text}"' in whole for text in ASKED[name].values() if "." in text)


def test_what_is_wrong_stands_beside_its_box_and_there_is_no_answer(client):
    answer = client.get(f"/quick/edge/answer?{query('edge', distance='<b>30 deg')}").content.decode()
    assert "correct the marked boxes" in answer
    assert "is not a" in answer
    assert "<b>" not in answer
    assert "Print" not in answer
    whole = client.get(f"/quick/edge/?{query('edge', distance='<b>30 deg')}").content.decode()
    assert 'aria-invalid="true"' in whole


def test_papers_are_handed_out(client):
    page = client.get(f"/quick/hand/print/page?{query('hand')}&paper=a4")
    assert page["Content-Type"] == "application/pdf"
    assert "QUICK_HAND_A4.pdf" in page["Content-Disposition"]
    (width, height) = pypdfium2.PdfDocument(page.content)[0].get_size()
    assert (width, height) == pytest.approx((595.3, 841.9), abs=1.0)
    outline = client.get(f"/quick/hand/print/outline?{query('hand')}")
    assert "TRUE_SIZE" in outline["Content-Disposition"]
    assert client.get(f"/quick/edge/print/outline?{query('edge')}").status_code == 404
    assert client.get("/quick/edge/print/page").status_code == 400


def test_metric_is_answered_in_metric(client):
    answer = client.get(f"/quick/edge/answer?{query('edge', distance='6,0325')}&units=mm").content.decode()
    assert "6.350 mm" in answer
    assert "6.0325" in answer or "6.033 mm" in answer


def test_an_address_that_is_none_and_a_visitor_from_outside(client, outside_client):
    assert client.get("/quick/nothing/").status_code == 404
    assert client.get("/quick/__init__/").status_code == 404
    assert client.post(f"/quick/edge/?{query('edge')}").status_code in (403, 405)
