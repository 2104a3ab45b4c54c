"""What is said when something goes wrong: a plain page, never a traceback."""

from __future__ import annotations

import logging
import traceback
from collections.abc import Callable
from contextlib import suppress
from functools import wraps

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of

View = Callable[[HttpRequest, str], HttpResponse]


class OneLine(logging.Formatter):
    """One line a trouble for the terminal, with the place in the program instead of a traceback."""

    def format(self, record: logging.LogRecord) -> str:
        """The line."""
        line = record.getMessage()
        if request := getattr(
            record, "request", None
        ):  # who reports the line keeps the place of the page to himself
            line = line.replace(request.path, request.path_info)
        if record.exc_info and record.exc_info[1]:
            error = record.exc_info[1]
            last = traceback.extract_tb(error.__traceback__)[-1:]
            place = f" at {last[0].filename}:{last[0].lineno}" if last else ""
            line += f": {type(error).__name__}: {error}{place}"
        return line.encode("ascii", "backslashreplace").decode().replace("\n", " ")

    def formatException(self, ei: object) -> str:
        """Nothing: the line says it."""
        return ""


def trouble(
    request: HttpRequest,
    status: int,
    what: str,
    *,
    faults: tuple[Fault, ...] = (),
    remedy: str = "",
    job_name: str = "",
    version: str = "",
) -> HttpResponse:
    """A page that says what went wrong and what to do; it offers the earlier text of a job whose spoilt file is of
    that version."""
    values = {
        "what": what,
        "faults": faults,
        "remedy": remedy,
        "job_name": job_name,
        "version": version,
    }
    return render(request, "trouble.html", values, status=status)


def no_such_job(request: HttpRequest, name: str, error: JobError) -> HttpResponse:
    """The page for a job that can't be read, with its earlier text where one is kept."""
    version = ""
    with suppress(JobError):
        version = site_of(request).jobs.spoilt(name)
    what = words("page.cannot_open")
    return trouble(request, 404, what, faults=error.faults, job_name=name, version=version)


def opens_job(no_answer: str = "page.cannot_judge") -> Callable[[View], View]:
    """A view of one job: it says so where the job cannot be read, or where the process beside the page fails.

    Args:
        no_answer: id of what it says of a failed process.
    """

    def decorated(view: View) -> View:
        @wraps(view)
        def answered(request: HttpRequest, name: str) -> HttpResponse:
            try:
                return view(request, name)
            except JobError as error:
                return no_such_job(request, name, error)
            except HatchwrightError as error:
                return trouble(request, 503, words(no_answer), remedy=f"{error}.")

        return answered

    return decorated


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """For a request that can't be read, or one for another host."""
    return trouble(request, 400, words("page.bad_request"), remedy=words("page.open_printed_address"))


def refused(request: HttpRequest, exception: Exception) -> HttpResponse:
    """For what is not allowed."""
    return trouble(request, 403, words("page.refused"), remedy=words("page.go_back"))


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """For an address that leads nowhere."""
    return trouble(request, 404, words("page.not_found"), remedy=words("page.go_back"))


def broken(request: HttpRequest) -> HttpResponse:
    """For a fault of the program itself."""
    return trouble(request, 500, words("page.broken"), remedy=words("page.report_the_line"))


def not_from_this_page(request: HttpRequest, reason: str = "") -> HttpResponse:
    """For a form that did not come from an open page of this program."""
    return trouble(request, 403, words("page.not_from_here"), remedy=words("page.enter_again"))
