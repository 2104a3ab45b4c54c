"""Every paper and machine file bears the verdict of its own side and the mark of the answers that it rests on.

Read back from the files: text of a PDF by another reader (pypdfium2), the bytes of the others.
"""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime

import ezdxf
import pypdfium2
import pytest

from hatchwright.drawings.made_file import MadeKind, Written
from hatchwright.job.file import load_job
from hatchwright.job.looks import Look
from hatchwright.job.machine import Machine
from hatchwright.search.strength_answer import answer_of
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline
from hatchwright.workflow.examine import examine
from hatchwright.workflow.papers import papers
from hatchwright.workflow.pins import pin_files
from hatchwright.workflow.strength_papers import strength_papers
from hatchwright.workflow.template_files import template_files
from hatchwright.workflow.toolpath import machine_files
from hatchwright.workflow.trial import trial_files
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)


def read(file) -> str:
    """What a file says, without the spaces that its lines are broken at."""
    if file.written is Written.PDF:
        with pypdfium2.PdfDocument(file.content) as pdf:
            text = "".join(page.get_textpage().get_text_range() for page in pdf)
    elif file.written is Written.DXF:
        drawing = ezdxf.read(io.StringIO(file.content.decode("utf-8")))
        text = "".join(one.plain_text() for one in drawing.modelspace().query("TEXT MTEXT"))
    else:
        text = file.content.decode("utf-8", errors="replace")
    return re.sub(r"<[^>]+>|\s|\^J|\(- |\)$|^# ", "", text, flags=re.MULTILINE).upper()


@pytest.fixture(scope="module", params=["alder", "cypress"])
def made(request):
    job = load_job(EXAMPLES / f"{request.param}.toml")
    looked = Look.model_validate({"date": "2027-03-09", "uncertainty": ".01"}, context={"unit": "in"})
    examination = examine(job.model_copy(update={"looks": (looked,)}) if request.param == "alder" else job)
    told = {"stamp": STAMP, "stem": request.param}
    files = [
        *papers(examination, **told),
        *papers(examination, only=["as-built", "forms", "package", "record"], **told),
    ]
    files += strength_papers(answer_of(examination.layout), **told)
    if examination.making:
        files += template_files(examination, **told, printable=True)
        files += [*pin_files(examination, **told), *trial_files(examination, kind="square", **told)]
        machine = Machine.load(EXAMPLES / "machines" / "machine.toml")
        files += [one.made for one in machine_files(examination, machine, name="machine.toml", **told)]
    return examination, files


def test_every_kind_of_paper_is_looked_at(made):
    examination, files = made
    kinds = {file.kind for file in files}
    if examination.making:
        of_others = {
            MadeKind.ALL_IN_ONE,
            MadeKind.PRINT,
            MadeKind.PREVIEW,
        }  # made of papers that are looked at
        of_no_side = {
            MadeKind.SWEEP,
            MadeKind.PULL_LIST,
            MadeKind.SCAN_FRAME,
            MadeKind.TRACED,
            MadeKind.QUICK,
        }
        of_a_fleet = {MadeKind.FLEET, MadeKind.LABELS, MadeKind.BALANCE}
        before_a_verdict = {MadeKind.SURVEY_SHEET, MadeKind.SURVEY_DRAWING}
        assert kinds == set(MadeKind) - of_others - of_no_side - of_a_fleet - before_a_verdict
    else:
        by_hand = {MadeKind.TRIAL_SHEET, MadeKind.LISTS, MadeKind.LOG, MadeKind.BLANK_FORMS}
        drawn = {MadeKind.OVERVIEW, MadeKind.LAYOUT, MadeKind.PARTS}
        assert kinds == drawn | by_hand | {
            MadeKind.CARRY_CARD,
            MadeKind.ANNEX,
            MadeKind.PACKAGE,
            MadeKind.RECORD,
            MadeKind.STRENGTH,
        }


def test_each_bears_the_verdict_and_the_mark_of_its_own_side(made):
    examination, files = made
    verdicts = {one.verdict.side: one.verdict for one in examination.sides}
    assert all(verdict.holds_back for verdict in verdicts.values())
    for file in files:
        if file.written in (Written.THREE_MF,) or (file.kind, file.written) == (
            MadeKind.STRENGTH,
            Written.SVG,
        ):
            continue  # packed, and read by its own test; a picture, which goes nowhere alone
        text, own = read(file), verdicts[file.side]
        assert f"ANSWERS{own.mark}" in text, file.name
        assert re.sub(r"\s", "", tell(headline(own))) in text, file.name
        for side, other in verdicts.items():
            assert (other.mark in text) == (side == file.side), file.name


def test_a_trial_holds_back_the_aircraft_and_not_the_scrap(made):
    for file in made[1]:
        text = read(file)
        is_for_scrap = file.kind in (MadeKind.TRIAL, MadeKind.TRIAL_SHEET)
        assert ("SCRAPONLY.AIRCRAFT:DONOTCUT" in text) == is_for_scrap, file.name
