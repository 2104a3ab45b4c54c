"""Job files that another program has spoilt, and addresses that lead to none: said in words, and put right."""

from __future__ import annotations

import re

import pytest

PUT_BACK = "Put the text before the last entry back"


def base_of(page: str) -> str:
    return re.search(r'name="base" value="([^"]+)"', page)[1]


@pytest.fixture
def entered(client, folder, alder_text) -> str:
    """The text before an entry that was made."""
    text = client.get("/job/alder.toml/text").content.decode()
    answer = client.post(
        "/job/alder.toml/text", {"text": alder_text + "\n# more\n", "base": base_of(text)}, follow=True
    )
    assert answer.status_code == 200
    return alder_text


@pytest.mark.parametrize("spoilt", [b"\xff\xfe", b"title = [", b"#" * 1_000_001])
def test_a_file_that_is_no_job_any_more_is_put_back_from_its_page(client, folder, entered, spoilt) -> None:
    (folder / "alder.toml").write_bytes(spoilt)
    page = client.get("/job/alder.toml/", follow=True).content.decode()
    assert PUT_BACK in page
    posted = client.post("/job/alder.toml/undo", {"base": base_of(page), "way": "back"}, follow=True)
    assert posted.status_code == 200
    assert (folder / "alder.toml").read_text(encoding="utf-8") == entered


def test_nothing_is_offered_where_nothing_can_be_put_back(client, folder) -> None:
    (folder / "alder.toml").write_bytes(b"\xff\xfe")
    for address in ("/job/alder.toml/", "/job/none.toml/"):
        answer = client.get(address)
        assert answer.status_code == 404
        assert PUT_BACK not in answer.content.decode()


@pytest.mark.parametrize("name", ["a" * 300 + ".toml", "itself.toml", "gone.toml"])
@pytest.mark.parametrize("rest", ["", "text", "judged", "papers", "strength"])
def test_an_address_that_leads_to_no_file_is_not_found(client, folder, name, rest) -> None:
    (folder / "itself.toml").symlink_to("itself.toml")
    (folder / "gone.toml").symlink_to("nowhere.toml")
    assert client.get(f"/job/{name}/{rest}").status_code == 404


def test_a_link_that_leads_out_of_the_folder_says_why_it_is_not_opened(client, folder, tmp_path) -> None:
    (tmp_path / "outside.toml").write_text("secret = 1\n")
    (folder / "link.toml").symlink_to(tmp_path / "outside.toml")
    for address in ("/", "/job/link.toml/"):
        page = client.get(address).content.decode()
        assert "a link to a file outside this folder" in page
        assert "secret" not in page


def test_the_text_page_keeps_the_mark_and_the_line_ends_of_the_file(client, folder, alder_text) -> None:
    held = b"\xef\xbb\xbf" + alder_text.replace("\n", "\r\n").encode()
    (folder / "alder.toml").write_bytes(held)
    page = client.get("/job/alder.toml/text").content.decode()
    typed = alder_text.replace("\n", "\r\n") + "# more\r\n"  # as a browser sends every text
    client.post("/job/alder.toml/text", {"text": typed, "base": base_of(page)})
    assert (folder / "alder.toml").read_bytes() == held + b"# more\r\n"


def test_a_folder_that_is_gone_is_told_and_its_return_noticed(client, folder) -> None:
    away = folder.rename(folder.with_name("away"))
    for address in ("/", "/lines?name=alder.toml", "/job/alder.toml/"):
        answer = client.get(address)
        assert answer.status_code == 404
    assert "he job folder can&#39;t be read" in client.get("/").content.decode()
    assert client.post("/new", {"title": "maple"}).status_code == 404
    assert not folder.exists()
    away.rename(folder)
    assert client.get("/").status_code == 200
