"""The folder of jobs: nothing is overwritten silently, nothing outside is touched, earlier texts can be had back."""

from __future__ import annotations

import threading
from functools import partial

import pytest

from hatchwright.errors import JobError
from hatchwright.workflow import kept_steps
from hatchwright.workflow.job_folder import ChangedElsewhereError, Hand, JobFolder, version_of


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "a.toml").write_text("n = 0\n")
    return JobFolder(tmp_path)


def hand(folder, *, page="p", serial=1, step="", base=None):
    return Hand(page, serial, step, version_of(folder.read("a.toml")) if base is None else base)


def put(text):
    return lambda _: text


def test_a_change_is_on_disk_when_it_is_answered(folder):
    assert folder.enter("a.toml", hand(folder), put("n = 1\n")) == "n = 1\n"
    assert (folder.folder / "a.toml").read_text() == "n = 1\n"


def test_a_stale_page_writes_nothing(folder):
    old = hand(folder, page="other")
    folder.enter("a.toml", hand(folder), put("n = 1\n"))
    with pytest.raises(ChangedElsewhereError) as refused:
        folder.enter("a.toml", old, put("n = 2\n"))
    assert refused.value.text == "n = 1\n"
    assert folder.read("a.toml") == "n = 1\n"


def test_the_same_page_goes_on_even_when_an_answer_was_lost(folder):
    first = hand(folder)
    folder.enter("a.toml", first, put("n = 1\n"))
    folder.enter("a.toml", Hand("p", 2, "", first.base), put("n = 2\n"))
    assert folder.read("a.toml") == "n = 2\n"


def test_a_late_entry_does_not_follow_a_newer_one(folder):
    folder.enter("a.toml", hand(folder, serial=2), put("n = 2\n"))
    assert folder.enter("a.toml", hand(folder, serial=1), put("n = 1\n")) == "n = 2\n"


def test_a_page_that_is_older_than_somebody_elses_change_is_stale_again(folder):
    first = hand(folder)
    folder.enter("a.toml", first, put("n = 1\n"))
    (folder.folder / "a.toml").write_text("n = 7\n")
    with pytest.raises(ChangedElsewhereError):
        folder.enter("a.toml", Hand("p", 2, "", first.base), put("n = 2\n"))


def test_undo_and_redo_outlive_a_restart_as_far_as_undo_goes(folder):
    for number, step in ((1, "s1"), (2, "s1"), (3, "s2")):
        folder.enter("a.toml", hand(folder, serial=number, step=step), put(f"n = {number}\n"))
    assert folder.steps("a.toml") == (2, 0)
    again = JobFolder(folder.folder)
    assert again.undo("a.toml", version_of("n = 3\n")) == "n = 2\n"
    assert again.undo("a.toml", version_of("n = 2\n")) == "n = 0\n"
    assert again.undo("a.toml", version_of("n = 0\n")) == "n = 0\n"
    assert again.steps("a.toml") == (0, 2)
    assert again.redo("a.toml", version_of("n = 0\n")) == "n = 2\n"
    assert again.redo("a.toml", version_of("n = 2\n")) == "n = 3\n"
    assert again.redo("a.toml", version_of("n = 3\n")) == "n = 3\n"


def test_undo_from_a_stale_page_is_refused(folder):
    folder.enter("a.toml", hand(folder), put("n = 1\n"))
    with pytest.raises(ChangedElsewhereError):
        folder.undo("a.toml", version_of("n = 0\n"))
    assert folder.read("a.toml") == "n = 1\n"


def test_a_new_entry_ends_what_could_be_put_back(folder):
    folder.enter("a.toml", hand(folder), put("n = 1\n"))
    folder.undo("a.toml", version_of("n = 1\n"))
    folder.enter("a.toml", hand(folder, serial=2), put("n = 5\n"))
    assert folder.steps("a.toml") == (1, 0)


def test_only_so_many_earlier_texts_are_kept(folder, monkeypatch):
    monkeypatch.setattr(kept_steps, "MOST_KEPT", 5)
    for number in range(1, 11):
        folder.enter("a.toml", hand(folder, serial=number), put(f"n = {number}\n"))
    assert list(folder.earlier_texts("a.toml")) == [f"n = {number}\n" for number in (9, 8, 7, 6, 5)]


def test_earlier_texts_are_not_jobs(folder):
    folder.enter("a.toml", hand(folder), put("n = 1\n"))
    assert folder.names() == ("a.toml",)


def test_a_change_that_fails_leaves_the_file(folder):
    def refuse(_):
        raise JobError(())

    with pytest.raises(JobError):
        folder.enter("a.toml", hand(folder), refuse)
    assert folder.read("a.toml") == "n = 0\n"
    assert folder.steps("a.toml") == (0, 0)


@pytest.mark.parametrize(
    "name",
    [
        "",
        ".",
        "..",
        "../a.toml",
        "/a.toml",
        "a",
        ".a.toml",
        "b.toml",
        "a.toml\0",
        "x/../a.toml",
        "\udcff.toml",
        "a" * 300 + ".toml",
        "itself.toml",
    ],
)
def test_names_that_are_no_jobs_of_the_folder_are_refused(folder, name):
    (folder.folder / "itself.toml").symlink_to("itself.toml")
    with pytest.raises(JobError):
        folder.read(name)


def test_a_link_out_of_the_folder_is_not_followed(folder, tmp_path_factory):
    outside = tmp_path_factory.mktemp("outside") / "secret.toml"
    outside.write_text("secret = 1\n")
    (folder.folder / "link.toml").symlink_to(outside)
    assert folder.names() == ("a.toml", "link.toml")
    with pytest.raises(JobError, match="a link to a file outside this folder"):
        folder.read("link.toml")
    with pytest.raises(JobError, match="a link to a file outside this folder"):
        folder.enter("link.toml", Hand("p", 1, "", version_of("secret = 1\n")), put("n = 1\n"))
    assert outside.read_text() == "secret = 1\n"
    assert outside.parent != folder.folder


def with_line(line, text):
    return f"{text}{line}\n"


def test_many_hands_at_once_lose_nothing(folder):
    """Eight pages enter at once, each from the text it reads; whoever is late is told, and what is written is whole."""
    done, told = [], []

    def work(page):
        for serial in range(1, 13):
            line = f"{page}{serial} = 1"
            try:
                folder.enter("a.toml", hand(folder, page=page, serial=serial), partial(with_line, line))
                done.append(line)
            except ChangedElsewhereError:
                told.append(page)

    threads = [threading.Thread(target=work, args=(f"page{n}_",)) for n in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(folder.read("a.toml").splitlines()) == sorted(["n = 0", *done])
    assert len(done) + len(told) == 96
