"""One verdict: on 200 random jobs, for each side that gets the opening, the exit status, the head of the page,
the box and the mark on the printed card, and the box on the drawing agree with each other.

The jobs are drawn from a seed: size, pitch, land, gauge, what was measured, the questions of the gate, and for some of
them loads. What is compared is read back from what each door gives out: exit status, HTML, PDF text.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from datetime import UTC, datetime

import pypdfium2
import pytest
from click.testing import CliRunner

from hatchwright.cli.main import hatchwright
from hatchwright.judged import Status
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline
from hatchwright.workflow.examine import examine
from hatchwright.workflow.open_job import open_job
from hatchwright.workflow.papers import papers
from job_text import job_text
from rules.cases import LAPPED, RING, changed
from tests.cards import card_of
from web.conftest import EXAMPLES, listed
from web.job_pages import JobPage

pytestmark = pytest.mark.usefixtures("strength_once")

JOBS = 200
WITH_LOADS = 12
"""Each of these runs its finite elements here, and once more in the process beside the page."""

PRINTED_EACH = 5
"""Setting a card takes as long as judging three jobs: each fifth is printed and read back."""

GATE = (
    "spar_web_or_cap", "pressure_skin", "tank_wall", "movable_surface", "fitting_path", "member_cut", "over_12500_lb",
    "maker_data", "drain_covered", "fuel_or_controls_behind",
)  # fmt: skip
STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
HEAD = re.compile(r"DO NOT CUT, DRILL OR RIVET:(?: \d+ (?:STOP|NOT SHOWN),?)+|No STOP found\.")
VERDICTS = ("No STOP found", "STOP", "NOT SHOWN")
"""What a head begins or counts first."""

MARK = re.compile(r"ANSWERS ([0-9A-F]{8})", re.IGNORECASE)


def random_job(seed: int) -> str:
    """A ring with one row on each side, sound or not; or a plain opening with a lapped cover on clip nuts."""
    draw = random.Random(seed)
    if seed >= WITH_LOADS and draw.random() < 0.4:
        return plain_job(draw)
    inset, pitch = draw.choice((0.25, 0.25, 0.3, 0.24)), draw.choice((0.5, 0.6, 0.45, 0.3))
    rows = []
    for axis, sign in ((0, 1), (0, -1), (1, 1), (1, -1)):
        along = [round(-1.2 + pitch * k, 4) for k in range(int(2.4 / pitch) + 1)]
        points = [(sign * (2 + inset), at) if axis == 0 else (at, sign * (2 + inset)) for at in along]
        places = [[f"{x:.4f}", f"{y:.4f}"] for x, y in points]
        rows.append(
            {
                "name": f"{'XY'[axis]}{'+-'[sign < 0]}",
                "lay": "points",
                "rivet": "MS20470AD4",
                "points": places,
            }
        )
    answers = {name: draw.random() < 0.03 for name in GATE if draw.random() < 0.97}
    changes = {
        "rows": rows,
        "doubler.outer.width": (size := draw.choice(("5", "5.2", "4.9"))),
        "doubler.outer.height": size,
        "skin.thickness": draw.choice((".025", ".032", ".040")),
        "skin.stressed": draw.random() < 0.5,
        "bay.flanges": [{"name": "rib flange", "x_from": "4.4"}],
        "gate": answers,
        "aircraft.both_sides": draw.random() < 0.3,
        "bay.rows": [
            *({"name": f"rib {k}", "member": "rib", "x": x} for k, x in enumerate(("-5", "5"))),
            *({"name": f"stringer {k}", "member": "stringer", "y": y} for k, y in enumerate(("-5", "5"))),
        ],
    }
    if draw.random() < 0.3:
        place = [1, f"{2 + inset + draw.uniform(-0.01, 0.01):.4f}", "-1.2"]
        changes["as_made"] = {"uncertainty": ".005", "holes": [place]}
    if seed < WITH_LOADS:
        changes["loads"] = {"basis": "restore"}
    return job_text(changed(RING, changes))


def plain_job(draw: random.Random) -> str:
    """An opening in unstressed skin, its gate answered but for a question now and then."""
    changes = {
        "cover.lap": draw.choice((".75", ".8")),
        "cover.screws.length": draw.choice(("1/2", "3/4", None)),
        "gate": {name: False for name in GATE if draw.random() < 0.95},
        "bay.flanges": [
            *(
                {"name": f"rib flange {k}", **edge}
                for k, edge in enumerate(({"x_from": "5"}, {"x_to": "-5"}))
            ),
            *(
                {"name": f"stringer flange {k}", **edge}
                for k, edge in enumerate(({"y_from": "5"}, {"y_to": "-5"}))
            ),
        ],
        "aircraft.both_sides": draw.random() < 0.3,
    }
    return job_text(changed(LAPPED, changes))


def printed(examination, paper="card") -> dict[str, str]:
    """What a paper of each side says."""
    made = papers(examination, stamp=STAMP, only=(paper,))
    return {one.side: " ".join(map(words_of, pypdfium2.PdfDocument(one.content))) for one in made}


def words_of(page) -> str:
    return " ".join(page.get_textpage().get_text_range().split())


def head_in(text: str) -> str:
    found = HEAD.search(" ".join(text.split()))
    assert found, text[:400]
    return found[0].rstrip(",.")


@pytest.mark.property
@pytest.mark.parametrize("quarter", range(4))
def test_the_verdict_is_the_same_in_all_places(client, folder, quarter):
    """All `JOBS` of them, a quarter at a time; each has every answer in it."""
    seen, to_list = set(), {}
    for seed in range(quarter, JOBS, 4):
        path = folder / f"job{seed}.toml"
        path.write_text(random_job(seed), encoding="utf-8")
        done = CliRunner().invoke(hatchwright, ["check", str(path)])
        assert done.exit_code in (0, 1), done.output
        command = head_in(done.output)
        address = f"/job/{path.name}/"
        if seed < WITH_LOADS:  # strength comes after the page, and with it the verdict
            address += f"judged?version={version(client, path)}"
        page = client.get(address)
        shown = head_in(page.content.decode())
        assert command == shown, seed
        counts = {status: n for status, n in counted(page.content.decode()).items() if status != "pass" and n}
        assert counts == Counter(shelved(page.content.decode())), seed
        assert done.exit_code == int(command.startswith("DO NOT CUT")), seed
        if seed % PRINTED_EACH == 0:
            job = open_job(path).job
            cards = printed(examine(job))
            assert len(cards) == 1 + job.aircraft.both_sides, seed
            card = cards.pop(job.aircraft.side)
            assert command == head_in(card), seed
            assert MARK.search(done.output)[1] == MARK.search(card)[1], seed
            to_list[path.name] = command
            for other in cards.values():
                assert head_in(other) in " ".join(done.output.split()), seed
        seen.add(next(one for one in VERDICTS if one in command))
        if path.name not in to_list:
            path.unlink()
    lines = listed(client)
    for name, command in to_list.items():
        assert command in re.search(rf"/job/{name}/.*?</div>\n</li>\n", lines, re.S)[0], name
    assert seen == set(VERDICTS)


def version(client, path) -> str:
    page = client.get(f"/job/{path.name}/").content.decode()
    return re.search(r'data-version="([^"]+)"', page)[1]


def drawn_text() -> str:
    """ALDER before anything was made."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    return text[: text.index("# What was really made")]


def test_a_margin_below_zero_stops_the_papers(tmp_path):
    """ALDER on the restore basis is short in its doubler (.825 of the metal put back) and its papers say so."""
    (tmp_path / "alder.toml").write_text(drawn_text() + '\n[loads]\nbasis = "restore"\n', encoding="utf-8")
    examination = examine(open_job(tmp_path / "alder.toml").job)
    assert any(one.code.startswith("S") and one.status is Status.STOP for one in examination.findings)
    assert head_in(printed(examination)["left"]).startswith("DO NOT CUT, DRILL OR RIVET")
    done = CliRunner().invoke(
        hatchwright, ["papers", str(tmp_path / "alder.toml"), "--only", "log", "--out", str(tmp_path / "out")]
    )
    assert done.exit_code == 1
    assert "DO NOT CUT" in done.output


def test_a_page_says_that_strength_is_not_run_yet_and_asks_for_it(client, folder):
    (folder / "loaded.toml").write_text(random_job(0), encoding="utf-8")
    texts = map(random_job, range(WITH_LOADS, JOBS))
    unloaded = next(text for text in texts if '"both_sides" = true' not in text)
    (folder / "unloaded.toml").write_text(unloaded, encoding="utf-8")
    loaded = client.get("/job/loaded.toml/").content.decode()
    assert tell(said("verdict.strength_not_run")) in loaded
    assert 'data-shown="no"' in loaded
    judged = client.get(
        f"/job/loaded.toml/judged?version={version(client, folder / 'loaded.toml')}"
    ).content.decode()
    assert tell(said("verdict.strength_not_run")) not in judged
    unloaded = client.get("/job/unloaded.toml/").content.decode()
    assert tell(said("verdict.strength_not_run")) not in unloaded
    assert 'data-shown="no"' in unloaded  # remedies for what does not pass are still to be tried


def shelved(html: str) -> list[str]:
    """The answer of each line that stands on a shelf of the page."""
    shelves = re.findall(r'<section class="shelf".*?</section>', html, re.S)
    return [
        one for shelf in shelves for one in re.findall(r'<li class="finding (?:to-enter )?is-(\w+)"', shelf)
    ]


def counted(html: str) -> dict[str, int]:
    """The figures above the drawing, by answer."""
    html = re.search(r'<ul class="counts".*?</ul>', html, re.S)[0]
    found = re.findall(r'is-(\w+)"[^>]*>(?:(?!</li>).)*?<span class="figure">(\d+)</span>', html, re.S)
    return {status: int(figure) for status, figure in found}


@pytest.mark.parametrize("name", ["alder", "birch", "cypress", "dogwood", "elder"])
def test_heads_and_shelves_count_the_lines_that_are_shown(client, folder, name):
    """Lines are counted where they stand: on page and card, in the command with everything, and in the list of jobs."""
    (folder / f"{name}.toml").write_text(
        (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    page = client.get(f"/job/{name}.toml/").content.decode()
    answers = Counter(shelved(page))
    assert {status: n for status, n in counted(page).items() if status != "pass" and n} == dict(answers)
    for shelf in re.findall(r'<section class="shelf".*?</section>', page, re.S):
        assert int(re.search(r"\((\d+)\)</h3>", shelf)[1]) == len(shelved(shelf))
    examination = examine(open_job(folder / f"{name}.toml").job)
    words = {tell(status): str(status) for status in Status}
    printed_lines = [
        words[line.answer] for shelf in card_of(examination).verdict.shelves for line in shelf.lines
    ]
    assert Counter(printed_lines) == answers
    told = CliRunner().invoke(hatchwright, ["check", "--more", str(folder / f"{name}.toml")]).output
    begun = re.findall(r"^(STOP|NOT SHOWN|CAUTION) ", told, re.M)
    assert Counter(words[one] for one in begun) == answers
    line = re.search(rf"/job/{name}.toml/.*?</div>\n</li>\n", listed(client), re.S)[0]
    more = re.search(r"and (\d+) more", line)
    assert line.count('<li class="is-') + int(more[1] if more else 0) == len(shelved(page))


def test_a_card_tells_each_cause_once_and_what_is_acknowledged_apart(folder):
    """R103 of ALDER is two findings and one line of its card; acknowledged, it is folded with its reason."""
    examination = examine(open_job(folder / "alder.toml").job)
    (line,) = (line for line in examination.verdict.open_lines if line.codes == ("R103",))
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    stands = 'reason = "as the covers beside it"\ninitials = "RB"\n'
    told = "".join(
        f'\n[[acknowledged]]\ncode = "{code}"\nnumber = "{number}"\n{stands}' for code, number in line.numbers
    )
    (folder / "known.toml").write_text(text + told, encoding="utf-8")
    known = examine(open_job(folder / "known.toml").job)
    before, after = (printed(one, "annex")["left"] for one in (examination, known))
    cause = "Screw 115 to cover edge (cover), closest of 16: 1.89D of 2D, .018 short. Plus 1 more."
    assert before.count(cause) == 1
    assert "DOES NOT HOLD (4)" in before
    assert "DOES NOT HOLD (3)" in after
    assert "ACKNOWLEDGED (1)" in after
    assert f"Acknowledged by RB (as the covers beside it): {cause}" in after
    assert after.count(cause) == 1


def test_the_page_shows_the_verdict_of_both_sides_whichever_is_looked_at(client, folder):
    left, right = examine(open_job(folder / "alder.toml").job).sides
    heads = {one.verdict.side: tell(headline(one.verdict)) for one in (left, right)}
    assert tell(said("verdict.other_side_awaited")) in client.get("/job/alder.toml/").content.decode()
    for other_side, here, there in (("", "left", "right"), ("yes", "right", "left")):
        opened = JobPage.opened(client)
        opened.take(opened.send(other_side=other_side))
        page = client.get("/job/alder.toml/").content.decode()
        assert 'data-shown="no"' in page
        late = client.get(
            f"/job/alder.toml/judged?version={version(client, folder / 'alder.toml')}"
        ).content.decode()
        shown = [" ".join(one.split()) for one in re.findall(r"<strong>(.*?)</strong>", late)]
        assert shown[:2] == [heads[here], f"{there.upper()} side: {heads[there]}"]
    lines = listed(client)
    assert heads["left"] in lines
    assert f"RIGHT side: {heads['right']}" in lines


@pytest.mark.parametrize(
    ("words", "one_side"),
    [
        (("check",), True),
        (("fasteners",), True),
        (("pins",), True),
        (("pins", "--out", "{out}"), False),
        (("trial",), True),
        (("trial", "--out", "{out}"), True),
        (("papers", "--only", "card", "--out", "{out}"), False),
        (("template", "--out", "{out}"), False),
        (("toolpath", "--machine", str(EXAMPLES / "machines" / "machine.toml"), "--out", "{out}"), False),
        (("strength",), True),
    ],
)
def test_every_command_shows_the_verdict_and_ends_by_it(tmp_path, words, one_side):
    """ALDER as drawn has no STOP; its other side, which nobody has surveyed, holds back what is made for it."""
    path = tmp_path / "drawn.toml"
    path.write_text(drawn_text(), encoding="utf-8")
    left, right = examine(open_job(path).job).sides
    assert (left.verdict.holds_back, right.verdict.holds_back) == (False, True)
    name, *rest = (word.format(out=tmp_path / "out") for word in words)
    done = CliRunner().invoke(hatchwright, [name, str(path), *rest])
    assert done.exit_code == (0 if one_side else 1), done.output
    told = " ".join(done.output.split())
    assert tell(headline(left.verdict)) in told
    assert tell(headline(right.verdict)) in told
