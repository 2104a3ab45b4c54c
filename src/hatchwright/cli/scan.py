"""`hatchwright scan`: measure a part from a flat scan, or print the frame that it is scanned in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.frame import PATH, Within, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.paper_options import paper_options
from hatchwright.errors import EntryError
from hatchwright.inspection.scan.frame import FRAMES
from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.write_files import write_files

if TYPE_CHECKING:
    from hatchwright.inspection.scan.budget import Scanner
    from hatchwright.inspection.scan.traced import AskedShape
    from hatchwright.workflow.scan import Guide, ScanReport

_SHAPES = ("auto", "rounded", "circle", "obround", "any")


@click.command(name="scan", help=words("command.scan.help"))
@click.argument("picture", type=PATH, required=False)
@click.option("--frame", "window", type=click.Choice(tuple(FRAMES)), help=words("command.scan.frame"))
@click.option("--job", type=PATH, help=words("command.scan.job"))
@click.option("--card", type=int, default=0, show_default=True, help=words("command.scan.card"))
@click.option("--bar-x", default="", help=words("command.scan.bar_x"))
@click.option("--bar-y", default="", help=words("command.scan.bar_y"))
@click.option("--bar-u", default=".002 in", show_default=True, help=words("command.scan.bar_u"))
@click.option("--scanner", type=click.Choice(["contact", "lens"]), help=words("command.scan.scanner"))
@click.option("--thickness", default="", help=words("command.scan.thickness"))
@click.option("--advance", default="", help=words("command.scan.advance"))
@click.option(
    "--shape", type=click.Choice(_SHAPES), default="auto", show_default=True, help=words("command.scan.shape")
)
@click.option("--tolerance", default=".003 in", show_default=True, help=words("command.scan.tolerance"))
@click.option("--outside", nargs=2, metavar="W H", help=words("command.scan.outside"))
@click.option("--outside-u", default=".0007 in", show_default=True, help=words("command.scan.outside_u"))
@click.option("--template", nargs=2, metavar="X Y", help=words("command.scan.template"))
@click.option(
    "--guide",
    type=click.Choice(["window", "plug"]),
    default="window",
    show_default=True,
    help=words("command.scan.guide"),
)
@click.option("--dpi", type=Within(50.0, 5000.0), help=words("command.scan.dpi"))
@click.option("--unit", type=click.Choice(["in", "mm"]), help=words("command.scan.unit"))
@click.option("--json", "as_json", is_flag=True, help=words("command.option.json"))
@paper_options(out=words("command.scan.out"), is_true_size=False)
def command(
    picture: Path | None,
    window: str | None,
    job: Path | None,
    card: int,
    bar_x: str,
    bar_y: str,
    bar_u: str,
    scanner: Scanner | None,
    thickness: str,
    advance: str,
    shape: AskedShape,
    tolerance: str,
    outside: tuple[str, str] | None,
    outside_u: str,
    template: tuple[str, str] | None,
    guide: Guide,
    dpi: float | None,
    unit: Unit | None,
    as_json: bool,
    out: Path | None,
    paper: AnyPaper,
    overwrite: bool,
) -> None:
    """Measure the part in PICTURE, or print the frame that it is scanned in."""
    from hatchwright.workflow.scan import Typed, known_of, scanned
    from hatchwright.workflow.scan_files import frame_files, scan_files, scan_values

    if picture is None:
        if window is None or out is None:
            raise EntryError.saying("command.scan.nothing", where="PICTURE")
        for path in write_files(frame_files(window, card=card, paper=paper), out, overwrite=overwrite):
            click.echo(path)
        return
    if not (bar_x and bar_y):
        raise EntryError.saying("command.scan.no_bars", where="--bar-x, --bar-y")
    if scanner is None:
        raise EntryError.saying("command.scan.no_scanner", where="--scanner")
    of_job = known_of(job) if job else None
    typed = Typed(
        bars=(bar_x, bar_y),
        scanner=scanner,
        bar_u=bar_u,
        thickness=thickness or (of_job.thickness if of_job else ""),
        advance=advance,
        shape=shape,
        tolerance=tolerance,
        outside=outside or ("", ""),
        outside_u=outside_u,
        dpi=dpi,
        unit=unit or (of_job.unit if of_job else "in"),
        template=template or ("", ""),
        guide=guide,
    )
    report = scanned(picture, typed)
    written = write_files(scan_files(report), out, overwrite=overwrite) if out else ()
    if as_json:
        put_json(scan_values(report, tuple(path.name for path in written)))
        return
    _print(report)
    for path in written:
        click.echo(path)
    if job and of_job and written and report.scan.holes:
        x, y = of_job.zero
        put_text(words("command.scan.measure", job=str(job), table=str(written[0]), x=x, y=y))
    if job and written:
        put_text(words("command.scan.trace", job=str(job), drawing=str(written[-1])))


def _print(report: ScanReport) -> None:
    from hatchwright.workflow.scan import edges_of
    from hatchwright.workflow.scan_files import entries_of, trial_lines
    from hatchwright.workflow.scan_said import HEADS, hole_rows, holes_said, scan_lines

    unit = report.unit
    for told in scan_lines(report):
        put_text(tell(told, unit))
    if rows := hole_rows(report):
        put_table([words(head) for head in HEADS], rows, title=tell(holes_said(report), unit))
    for part, _ in edges_of(report.scan):
        click.echo(words("command.scan.entries", part=said(f"scan.part.{part}")))
        for line in entries_of(report, part):
            click.echo(f"  {line}")
    if lines := trial_lines(report):
        click.echo(words("command.scan.trial"))
        for line in lines:
            click.echo(f"  {line}")
    put_text(words("command.scan.caliper"))
    put_text(words("command.scan.limits"))
