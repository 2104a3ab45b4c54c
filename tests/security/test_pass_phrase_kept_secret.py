"""A pass phrase goes to the server and nowhere else: into no page, file, log line or address."""

from __future__ import annotations

import logging

from security.browsing import form_of
from security.shop import INSPECTOR, MECHANIC, PHRASES

SECRET = "secret of this test only"


def test_it_comes_back_on_no_page(shop):
    mechanic = shop.browser(MECHANIC)
    form = {"pass_phrase": SECRET, "new_pass_phrase": SECRET, "new_pass_phrase_again": f"{SECRET}!"}
    refused = shop.send(mechanic, "/people/pass-phrase", form)
    assert refused.status == 409
    assert SECRET not in refused.text
    token = form_of(mechanic.ask("/people").text, "/people/pass-phrase")
    shop.send(mechanic, "/leave", {})
    closed = mechanic.ask("/people/pass-phrase", {**token, **form, "note": "typed <at> noon"})
    assert closed.status == 403
    assert SECRET not in closed.text
    assert "typed &lt;at&gt; noon" in closed.text  # everything else stays, to be sent again
    assert SECRET not in shop.log_in(shop.outside(), MECHANIC, SECRET).text
    assert 'type="password"' in shop.outside().ask("/login").text


def test_it_stands_in_no_file_and_no_line_of_the_terminal(shop, caplog, monkeypatch):
    inspector = shop.browser(INSPECTOR)
    form = {"name": "D. Mechanic", "role": "mechanic", "pass_phrase": PHRASES[INSPECTOR]}
    form |= {"new_pass_phrase": SECRET, "new_pass_phrase_again": SECRET}
    with caplog.at_level(logging.DEBUG):
        assert shop.send(inspector, "/people/name", form).status == 302
        monkeypatch.setattr(type(shop.staff), "signer", lambda *_: 1 / 0)
        broken = shop.send(inspector, "/people/name", form)
    assert broken.status == 500
    said = broken.text + caplog.text + "".join(str(record.__dict__) for record in caplog.records)
    files = b"".join(path.read_bytes() for path in shop.folder.parent.rglob("*") if path.is_file())
    for phrase in (SECRET, PHRASES[INSPECTOR]):
        assert phrase not in said
        assert phrase.encode() not in files
        assert phrase.encode("utf-16-le") not in files


def test_nothing_of_the_shop_is_kept_by_the_browser(shop):
    for answer in (shop.outside().ask("/login"), shop.browser(INSPECTOR).ask("/people")):
        assert answer.header("cache-control") == "no-store"
        assert "default-src 'none'" in answer.header("content-security-policy")
