"""Whatever stands in a file, reading it takes work in proportion to its size.

Each text is so long that a reader whose work grows with the square of it would take minutes; the sizes are the largest
that a file may have. Nothing here looks at a clock: a reader that does not hold simply does not end.
"""

from __future__ import annotations

import pytest

from hatchwright.errors import HatchwrightError, JobError
from hatchwright.inspection.kinds import by_kind
from hatchwright.job.bounds import DEEPEST, MOST_FAULTS, beyond_reason
from hatchwright.job.cutter_shelf import CutterShelf
from hatchwright.job.file import read_job
from hatchwright.job.job_text import retyped
from hatchwright.job.lines import line_of_each_key
from hatchwright.job.machine import Machine
from hatchwright.job.text_file import LARGEST_FILE_BYTES
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.units import parse_length
from tests.conftest import EXAMPLES
from tests.told import what_of

N = LARGEST_FILE_BYTES // 5
BLANKS = " " * N

LINES = {
    "a header that never closes": f"[a{BLANKS}",
    "a header with blanks on both sides": f"[{BLANKS}a{BLANKS}] x",
    "a list header": f"[[{BLANKS}a{BLANKS}x{BLANKS} ",
    "a key without a value": f"a{BLANKS}",
    "a key and blanks before a stray word": f"a = b{BLANKS}c",
    "a dotted key in blanks": f"a{BLANKS}.{BLANKS}b",
    "a quoted key that never closes": '"' + "a" * N,
    "a value that never closes": 'a = "' + '\\"' * (N // 2),
    "brackets": "a = " + "[" * N,
    "braces": "a = " + "{a=" * (N // 3),
    "a key of many parts": "a." * (N // 2) + "a = 1",
    "a header of many parts": "[" + "a." * (N // 2) + "a]",
    "an inline key of many parts": "x = {" + "a." * (N // 2) + "a = 1}",
    "a long word": "a" * N,
    "digits": "a = " + "9" * N,
    "hexadecimal digits": "schema = 0x" + "f" * N,
    "quotes": "a = " + '"""\n\\' * (N // 5),
    "comments": "#" * N,
    "line ends": "\n" * N,
    "dots": "." * N,
}


@pytest.mark.parametrize("name", LINES)
def test_one_line_is_refused_in_words(name):
    with pytest.raises(JobError) as caught:
        read_job(LINES[name])
    assert 1 <= len(caught.value.faults) <= MOST_FAULTS + 1
    assert all(len(str(fault)) < 2000 for fault in caught.value.faults)


@pytest.mark.parametrize("read", [Machine.read, TrialReadings.read, CutterShelf.read])
@pytest.mark.parametrize("name", ["a header with blanks on both sides", "braces", "hexadecimal digits"])
def test_other_files_are_read_by_the_same_reader(read, name):
    with pytest.raises(JobError):
        read(LINES[name])


@pytest.mark.parametrize("name", LINES)
def test_the_lines_of_keys_are_found_in_any_text(name):
    assert all(1 <= line <= N + 1 for line in line_of_each_key(LINES[name][:100_000]).values())


@pytest.mark.parametrize(
    "line", ["x\n", "x = 1\n", "[x]\n", "[[bay.rows]]\n", "x = [\n", 'x = "\n', "x = 1,5\n"]
)
def test_many_lines_are_told_of_a_hundred_faults_at_most(line):
    with pytest.raises(JobError) as caught:
        read_job("schema = 2\n" + line * 5_000)
    assert len(caught.value.faults) <= MOST_FAULTS + 1


@pytest.mark.parametrize("line", [f"a{BLANKS}b", f"head{BLANKS}1", "'" * N, f"{'a' * N}1"])
def test_a_table_of_readings_is_parted_by_its_kinds_in_one_go(line):
    assert sum(map(len, by_kind(f"head;1;2;3\n{line}9;1").values())) <= len(line) + 40


def test_long_names_of_tables_do_not_make_every_key_in_them_long():
    """Each key's place holds the name of its table: 20,000 keys in a table of 200,000 letters would be 4 GB."""
    text = f"[{'a' * 200_000}]\n" + "".join(f"k{n} = 1\n" for n in range(20_000))
    assert sum(map(len, line_of_each_key(text))) < 20 * len(text)


def test_many_misspelled_samples_among_many_keys(alder_text):
    """Each was compared with every place of the file, letter by letter."""
    names = ", ".join(f'"skin.thicknes{n}"' for n in range(400))
    keys = "".join(f"k{n} = 1\n" for n in range(8_000))
    text = alder_text.replace("[aircraft]", f"samples = [{names}]\n{keys}[aircraft]", 1)
    with pytest.raises(JobError) as caught:
        read_job(text)
    assert any(
        fault.field == "samples.0" and "skin.thickness" in str(fault) for fault in caught.value.faults
    ), str(caught.value)[:500]


def test_rivets_fitted_are_counted_once():
    """Each number was looked for among all: 100,000 of them are ten thousand million looks."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    some = str(list(range(1, 1001)))
    fitted = "".join(f'[[as_made.fitted]]\nrivet = "none"\nholes = {some}\n' for _ in range(100))
    with pytest.raises(JobError, match="hole 1 has two rivets"):
        read_job(f"{text}\n{fitted}")


def test_a_long_line_is_changed_without_looking_at_each_quote_anew():
    line = 'a = """x' + '\\"' * 200_000 + '"""\n'
    assert retyped(f'{line}b = "1"\n', "a", "2") is None


@pytest.mark.parametrize(
    "text", ["1" * N, " " * N, "1 " * N, "-" * N, "1/" * N, "a" * N, "#" * N, "1" + " " * N + "x"]
)
def test_a_typed_value_is_refused_whatever_its_length(text):
    for read in (parse_length, parse_rivet):
        with pytest.raises(HatchwrightError) as caught:
            read(text)
        assert len(str(caught.value)) < 2000


def test_what_people_write_is_within_reason():
    for path in EXAMPLES.glob("*.toml"):
        assert beyond_reason(path.read_text(encoding="utf-8")) is None
    assert beyond_reason('a = "' + "[" * 100 + "1.2.3.4" * 20 + "9" * 99 + '" # ' + "[{" * 99) is None
    assert beyond_reason("a = [" + '["1.5", "2.5"], ' * 500 + "]") is None


def test_what_is_too_deep_is_said(alder_text):
    with pytest.raises(JobError) as caught:
        read_job(f"{alder_text}\nx = {'[' * (DEEPEST + 1)}1{']' * (DEEPEST + 1)}")
    assert "24 deep" in what_of(caught.value.faults[0])
