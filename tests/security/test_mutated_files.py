"""A small seeded sample of `studies/mutated_files.py`: spoilt files of every kind, read as the commands read them."""

from __future__ import annotations

from studies import mutated_files


def test_whole_files_are_read(tmp_path):
    """Or none of the spoilt ones would come further than the door."""
    for kind in mutated_files.kinds():
        for number, whole in enumerate(kind.whole):
            folder = tmp_path / f"{kind.name} {number}"
            folder.mkdir()
            assert mutated_files.read(kind, whole, folder) in (0, 1), kind.name


def test_spoilt_files_are_read_or_refused_and_nothing_is_written_when_they_are():
    tally = mutated_files.study(60)
    beyond_doubt = {
        what: case for what, case in tally.faults.items() if not what.startswith("over")
    }  # here others run too: a study of its own says what it costs
    assert beyond_doubt == {}
    assert sum(n for case, n in tally.cases.items() if not case.startswith("FAULT")) == 60
    assert {status.rpartition(" ")[2] for status in tally.cases} >= {"1", "2"}
