"""Sweeps: over processes and over a cluster, stopped and taken up again, with refused variants and other sweeps'
folders.
"""

from __future__ import annotations

import csv
import json
import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from errno import ENOSPC
from pathlib import Path
from xml.etree import ElementTree

import pytest

from hatchwright.errors import EntryError, ExportError, JobError
from hatchwright.judged import Status
from hatchwright.page.fill_in import with_unit
from hatchwright.said import Listed
from hatchwright.search.sweep import Sweep, best_first, notes_of, sweep_of, tasks_of
from hatchwright.search.sweep_work import SweepRow, Task
from hatchwright.search.task_workers import in_processes, on_cluster
from hatchwright.search.variation import parse_variation
from hatchwright.strength.report import Elements
from hatchwright.words.tell import tell
from hatchwright.workflow.strength import strength_of
from hatchwright.workflow.sweep_folder import run_sweep, write_picture
from tests.patience import PATIENCE_S
from tests.strength.jobs import ANSWERED, RESTORE, SYMMETRIC, layout_of, running

JOB = SYMMETRIC + ANSWERED + RESTORE
BY_HAND = JOB.replace('width = "7"\nheight = "7"', 'width = "12"\nheight = "7"')
THICKNESS = "doubler.thickness=.032:.050"
COUNT = "rows.count=6,8"
SAME = "doubler.thickness=.040"
AT_ONCE_S = 0.1


def here(work: Callable[[Task], list[SweepRow]], tasks: Sequence[Task]) -> Iterator[list[SweepRow]]:
    """Do the tasks in this process."""
    for task in tasks:
        yield work(task)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "square.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


@pytest.fixture
def by_hand(tmp_path: Path) -> Path:
    """The same with a doubler that reaches beyond its bay, which the elements refuse at once: for tests of who does
    what, and where it is written; margins by hand stand in every row."""
    path = tmp_path / "by_hand.toml"
    path.write_text(BY_HAND, encoding="utf-8")
    return path


def sweep(job: Path, *vary: str, buckling: bool = False) -> Sweep:
    return sweep_of(job, [parse_variation(text) for text in vary], buckling=buckling)


def said_in(picture: Path) -> str:
    root = ElementTree.fromstring(picture.read_bytes())
    return " ".join(text.text or "" for text in root.iter("{http://www.w3.org/2000/svg}text"))


def table(folder: Path) -> list[dict[str, str]]:
    with (folder / "sweep.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_variants_of_one_geometry_share_a_task(job: Path) -> None:
    whole = sweep(job, THICKNESS, COUNT)
    tasks = tasks_of(whole, whole.variants)
    assert [len(task.variants) for task in tasks] == [3, 3]
    assert all(len({dict(variant)["rows.count"] for variant in task.variants}) == 1 for task in tasks)


def test_rows_agree_with_the_reports_of_the_same_jobs(job: Path, tmp_path: Path) -> None:
    """Each variant of a task after the first is solved from factorized sheets; the report of that job alone is
    not.
    """
    rows = list(run_sweep(sweep(job, THICKNESS), tmp_path / "out", here))
    assert [dict(row.variant)["doubler.thickness"] for row in rows] == ["0.032 in", "0.040 in", "0.050 in"]
    for row, thickness in zip(rows, (".032", ".040", ".050"), strict=True):
        base = SYMMETRIC.replace('thickness = ".040"', f'thickness = "{thickness}"')
        found = strength_of(
            layout_of(ANSWERED, RESTORE, base=base).job, elements=Elements(buckling=False)
        ).report
        assert row.lowest_margin == pytest.approx(found.lowest.ratio if found.lowest else None, rel=1e-9)
        assert found.analysis is not None
        hardest = max(r.greater_lbf for case in found.analysis.cases for r in case.rivets) / 1.5
        assert row.hardest_rivet_lbf == pytest.approx(hardest, rel=1e-9)
        assert row.error == ""
    masses = [row.doubler_lb for row in rows]
    assert masses == sorted(masses)  # type: ignore[type-var]
    area = 7 * 7 - (4 - 3.14159265) * 1.5**2 - (16 - (4 - 3.14159265) * 1.0**2)
    assert masses[1] == pytest.approx(area * 0.040 * 0.101, rel=0.01)


@pytest.fixture
def pressed(tmp_path: Path) -> Path:
    """A job that buckles under its loads, and sooner than before its cut."""
    path = tmp_path / "pressed.toml"
    path.write_text(SYMMETRIC + ANSWERED + running({"q": 60.0}), encoding="utf-8")
    return path


def test_a_sweep_looks_for_buckling_and_stops_where_strength_stops(pressed: Path, tmp_path: Path) -> None:
    """Every code that `strength` stops at or cannot tell stands in the row of the same job."""
    row, *rest = run_sweep(sweep_of(pressed, [parse_variation(SAME)]), tmp_path / "out", here)
    report = strength_of(layout_of(ANSWERED, running({"q": 60.0}), base=SYMMETRIC).job).report
    assert not rest
    assert report.lowest is not None
    assert row.governs.startswith("S803")
    assert row.lowest_margin == pytest.approx(report.lowest.ratio, rel=1e-9)
    assert (row.answer, row.left_out) == ("STOP", "")
    for codes, status in ((row.stops, Status.STOP), (row.cannot_tell, Status.UNKNOWN)):
        asked = [one.code for one in (*report.margins, *report.findings) if one.status is status]
        assert codes.split() == sorted(set(asked))
    assert not row.is_clear


def test_buckling_that_was_left_out_is_named_in_table_plan_and_picture(pressed: Path, tmp_path: Path) -> None:
    whole, folder = sweep(pressed, SAME), tmp_path / "out"
    rows = list(run_sweep(whole, folder, here))
    assert "S803" not in rows[0].governs
    assert "buckling" in rows[0].left_out
    assert "buckling" in table(folder)[0]["left_out"]
    assert "buckling" in " ".join(json.loads((folder / "sweep.json").read_text(encoding="utf-8"))["left_out"])
    picture = write_picture(whole, rows, folder)
    assert picture is not None
    assert "NOT LOOKED FOR, though strength does: buckling of the reinforced panel" in said_in(picture)
    with pytest.raises(ExportError, match="another sweep"):
        list(run_sweep(sweep(pressed, SAME, buckling=True), folder, here))


def test_measured_holes_that_are_not_taken_are_named(job: Path) -> None:
    measured = '\n[as_made]\nuncertainty = ".002"\nholes = [[1, "2.31", "-1.61"]]\n'
    job.write_text(JOB + measured, encoding="utf-8")
    assert "as measured" in tell(Listed(sweep(job, SAME, buckling=True).left_out))


def test_the_gate_is_told_apart_from_margins(tmp_path: Path) -> None:
    path = tmp_path / "open.toml"
    path.write_text(SYMMETRIC + RESTORE, encoding="utf-8")
    whole = sweep(path, SAME)
    row = next(run_sweep(whole, tmp_path / "out", here))
    assert row.gate.split() == ["S101", "S102", "S103", "S104", "S105", "S106"]
    assert not {"S101", "S106"} & {*row.stops.split(), *row.cannot_tell.split()}
    assert "1 of 1 variants to an engineer" in " ".join(notes_of(whole, [row]))


def test_what_nothing_stops_stands_first() -> None:
    rows = [
        SweepRow((), lowest_margin=2.0, stops="S812"),
        SweepRow((), error="refused"),
        SweepRow((), lowest_margin=0.1),
        SweepRow((), lowest_margin=0.3),
    ]
    assert [row.lowest_margin for row in best_first(rows)] == [0.3, 0.1, 2.0, None]


def test_worker_processes_give_the_same_table(by_hand: Path, tmp_path: Path) -> None:
    whole = sweep(by_hand, THICKNESS, COUNT)
    alone = {row.variant: row for row in run_sweep(whole, tmp_path / "one", here)}
    many = {row.variant: row for row in run_sweep(whole, tmp_path / "two", in_processes(2))}
    assert many == alone
    assert len({row.lowest_margin for row in alone.values()}) == 4
    assert len(table(tmp_path / "two")) == 6


def test_a_stopped_sweep_goes_on_where_it_stopped(by_hand: Path, tmp_path: Path) -> None:
    whole, folder = sweep(by_hand, THICKNESS, COUNT), tmp_path / "out"
    running = run_sweep(whole, folder, here)
    first = [next(running), next(running)]
    running.close()
    assert len(table(folder)) == 3  # the whole first task was written before its rows were handed over
    done: list[int] = []

    def counting(work: Callable[[Task], list[SweepRow]], tasks: Sequence[Task]) -> Iterator[list[SweepRow]]:
        done.extend(len(task.variants) for task in tasks)
        return here(work, tasks)

    rows = list(run_sweep(whole, folder, counting))
    assert done == [3]
    assert rows[:2] == first
    assert {row.variant for row in rows} == set(whole.variants)
    assert len(table(folder)) == 6
    assert len(list(run_sweep(whole, folder, counting))) == 6
    assert done == [3]


def test_a_line_that_was_cut_off_is_done_again(by_hand: Path, tmp_path: Path) -> None:
    whole, folder = sweep(by_hand, THICKNESS), tmp_path / "out"
    list(run_sweep(whole, folder, here))
    path = folder / "sweep.csv"
    text = path.read_text(encoding="utf-8")
    path.write_text(text[: text.rstrip("\n").rindex("\n") + 20], encoding="utf-8")
    rows = list(run_sweep(whole, folder, here))
    assert len(rows) == 3
    assert path.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    "spoilt",
    [
        lambda table: table.replace(",", ";"),
        lambda table: table.replace("rivets", "Nieten", 1),
        lambda table: table + "\0\udcff\n",
    ],
)
def test_a_table_that_another_program_wrote_in_its_own_way_is_refused_and_stays(
    by_hand: Path, tmp_path: Path, spoilt: Callable[[str], str]
) -> None:
    """As a spreadsheet of another language saves it."""
    one, folder = sweep(by_hand, "doubler.thickness=.040"), tmp_path / "out"
    list(run_sweep(one, folder, here))
    path = folder / "sweep.csv"
    held = spoilt(path.read_text(encoding="utf-8")).encode("utf-8", "surrogateescape")
    path.write_bytes(held)
    with pytest.raises(ExportError, match="is not from a sweep"):
        list(run_sweep(one, folder, here))
    assert path.read_bytes() == held


def test_a_sweep_that_could_not_be_begun_leaves_nothing_and_is_begun_again(
    by_hand: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, folder = sweep(by_hand, "doubler.thickness=.040"), tmp_path / "out"

    def full(_: int) -> None:
        raise OSError(ENOSPC, os.strerror(ENOSPC))

    with monkeypatch.context() as disk:
        disk.setattr(os, "fsync", full)
        with pytest.raises(ExportError, match="No space left"):
            list(run_sweep(one, folder, here))
    assert not folder.exists()
    assert len(list(run_sweep(one, folder, here))) == 1


def test_a_row_that_stands_twice_in_a_table_counts_once(by_hand: Path, tmp_path: Path) -> None:
    one, folder = sweep(by_hand, "doubler.thickness=.040"), tmp_path / "out"
    list(run_sweep(one, folder, here))
    path = folder / "sweep.csv"
    text = path.read_text(encoding="utf-8")
    path.write_text(text + text.splitlines(keepends=True)[-1], encoding="utf-8")
    assert len(list(run_sweep(one, folder, here))) == 1


def test_another_sweep_in_the_folder_is_kept(by_hand: Path, tmp_path: Path) -> None:
    folder = tmp_path / "out"
    list(run_sweep(sweep(by_hand, "doubler.thickness=.040"), folder, here))
    kept = (folder / "sweep.csv").read_bytes()
    with pytest.raises(ExportError, match="another sweep"):
        list(run_sweep(sweep(by_hand, "doubler.thickness=.050"), folder, here))
    assert (folder / "sweep.csv").read_bytes() == kept
    assert len(list(run_sweep(sweep(by_hand, "doubler.thickness=.050"), folder, here, overwrite=True))) == 1
    assert "0.050" not in kept.decode()


def test_a_changed_job_is_another_sweep(by_hand: Path, tmp_path: Path) -> None:
    folder = tmp_path / "out"
    list(run_sweep(sweep(by_hand, "doubler.thickness=.040"), folder, here))
    by_hand.write_text(BY_HAND.replace('thickness = ".032"', 'thickness = ".025"'), encoding="utf-8")
    with pytest.raises(ExportError, match="the job has changed"):
        list(run_sweep(sweep(by_hand, "doubler.thickness=.040"), folder, here))


def test_a_refused_variant_says_why_and_the_rest_goes_on(job: Path, tmp_path: Path) -> None:
    rows = list(run_sweep(sweep(job, "rows.rivet=MS20470AD4,MS20470AD4-4"), tmp_path / "out", here))
    assert rows[0].error == ""
    assert rows[0].lowest_margin is not None
    assert "(given: MS20470AD4-4)" in rows[1].error
    assert rows[1].error.count("(given: MS20470AD4-4)") == 1
    assert "And 7 more like it." in rows[1].error
    assert (rows[1].answer, rows[1].is_clear) == ("NOT SHOWN", False)
    assert rows[1].lowest_margin is None


def test_a_variant_without_finite_elements_cannot_be_told(job: Path, tmp_path: Path) -> None:
    """A doubler larger than its bay of ten inches cannot be meshed; hand methods still give margins."""
    rows = list(run_sweep(sweep(job, "doubler.outer.width=7,12"), tmp_path / "out", here))
    assert rows[0].error == ""
    assert rows[1].error.startswith("Finite elements stopped:")
    assert rows[1].lowest_margin is not None
    assert rows[1].answer in ("NOT SHOWN", "STOP")
    assert not rows[1].is_clear


def test_a_job_without_loads_is_not_swept(tmp_path: Path) -> None:
    path = tmp_path / "plain.toml"
    path.write_text(SYMMETRIC, encoding="utf-8")
    with pytest.raises(JobError, match="no loads"):
        sweep(path, THICKNESS)


def test_a_field_that_is_not_there_is_refused(job: Path) -> None:
    with pytest.raises(EntryError, match="no section 'hatch'"):
        sweep(job, "hatch.size=1,2")
    with pytest.raises(EntryError, match=r"rows.0 has no 'ptch'. Did you mean pitch"):
        sweep(job, "rows.ptch=.5,.6")
    with pytest.raises(JobError, match=r"loads.cover.air_pressure: the job has no such entry"):
        sweep(job, "loads.cover.air_pressure=.5,.6")


def test_the_picture_shows_every_variant_and_the_front(job: Path, tmp_path: Path) -> None:
    whole = sweep(job, THICKNESS, COUNT)
    rows = list(run_sweep(whole, tmp_path / "out", here))
    path = write_picture(whole, rows, tmp_path / "out")
    assert path is not None
    root = ElementTree.fromstring(path.read_bytes())
    marks = [
        p for p in root.iter("{http://www.w3.org/2000/svg}path") if p.get("fill") in ("#000000", "#ffffff")
    ]
    assert len(marks) == 6
    said = said_in(path)
    assert "doubler weight" in said
    assert "NOT APPROVED DATA" in said
    assert write_picture(whole, [], tmp_path / "out") is None


@contextmanager
def cluster_of(workers: int) -> Iterator[str]:
    """The address of a cluster in this process, which takes as long as it takes to begin."""
    distributed = pytest.importorskip("distributed")
    dask = pytest.importorskip("dask")
    patient = {f"distributed.comm.timeouts.{name}": PATIENCE_S for name in ("connect", "tcp")}
    with (
        dask.config.set(patient),
        distributed.LocalCluster(
            n_workers=workers,
            threads_per_worker=1,
            processes=False,
            protocol="tcp://",
            dashboard_address=None,
            silence_logs=50,
        ) as cluster,
    ):
        yield cluster.scheduler_address


@pytest.mark.outside
def test_a_cluster_of_two_workers_gives_the_same_table(by_hand: Path, tmp_path: Path) -> None:
    whole = sweep(by_hand, THICKNESS, COUNT)
    alone = {row.variant: row for row in run_sweep(whole, tmp_path / "one", here)}
    with cluster_of(2) as address:
        rows = list(run_sweep(whole, tmp_path / "cluster", on_cluster(address, patience_s=PATIENCE_S)))
    assert {row.variant: row for row in rows} == alone


@pytest.mark.outside
def test_a_cluster_without_workers_is_told_and_nothing_is_written(
    by_hand: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    client = pytest.importorskip("distributed").Client
    wait = client.wait_for_workers
    monkeypatch.setattr(client, "wait_for_workers", lambda self, n, timeout: wait(self, n, AT_ONCE_S))
    with cluster_of(0) as address:
        do = on_cluster(address, patience_s=PATIENCE_S)
        with pytest.raises(ExportError, match=f"the scheduler at {address} has no workers") as told:
            list(run_sweep(sweep(by_hand, THICKNESS), tmp_path / "out", do))
    assert f"dask worker {address}" in str(told.value)
    assert not (tmp_path / "out").exists()


def test_no_cluster_at_the_address(by_hand: Path, tmp_path: Path) -> None:
    pytest.importorskip("distributed")
    with pytest.raises(ExportError, match="no cluster answers"):
        list(
            run_sweep(
                sweep(by_hand, THICKNESS), tmp_path / "out", on_cluster("tcp://127.0.0.1:1", patience_s=0.2)
            )
        )


def test_a_second_sweep_into_a_folder_is_told_and_no_row_is_written_twice(
    by_hand: Path, tmp_path: Path
) -> None:
    whole, folder = sweep(by_hand, THICKNESS), tmp_path / "out"
    first = run_sweep(whole, folder, here)
    next(first)
    with pytest.raises(ExportError, match="another sweep is writing there"):
        list(run_sweep(whole, folder, here))
    list(first)
    assert len(table(folder)) == 3
    assert len(list(run_sweep(whole, folder, here))) == 3  # it is free again


def test_the_table_of_a_metric_job_is_in_its_unit_and_is_taken_up_again(tmp_path: Path) -> None:
    """1 lb = 0.45359237 kg, 1 lbf = 4.4482216 N, 1 psi = 6.894757 kPa: [NIST SP 811], appendix B.8."""
    measured = {"doubler_lb": 1.0, "hardest_rivet_lbf": 100.0, "edge_psi": 10_000.0}
    found = {}
    for unit, value in (("in", ".040"), ("mm", "1")):
        job = tmp_path / f"{unit}.toml"
        job.write_text(with_unit(BY_HAND, unit), encoding="utf-8")
        whole = sweep_of(job, [parse_variation(f"doubler.thickness={value}", unit=unit)], buckling=False)
        rows = [SweepRow(variant, rivets=4, **measured) for variant in whole.variants]
        list(run_sweep(whole, tmp_path / unit, lambda _, __, rows=rows: iter([rows])))
        (found[unit],) = table(tmp_path / unit)
        (again,) = run_sweep(whole, tmp_path / unit, lambda _, __: iter([]))
        assert [getattr(again, name) for name in measured] == pytest.approx(list(measured.values()))
    assert [found["in"][name] for name in measured] == ["1.0", "100.0", "10000.0"]
    metric = [float(found["mm"][name]) for name in ("doubler_kg", "hardest_rivet_n", "edge_mpa")]
    assert metric == pytest.approx([0.45359237, 444.82216, 68.94757])
    assert not set(measured) & set(found["mm"])
