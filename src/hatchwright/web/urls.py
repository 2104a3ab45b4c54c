"""The addresses of the page."""

from __future__ import annotations

from django.urls import path

from hatchwright.web import (
    another_page,
    compare_page,
    door,
    downloads,
    hole_page,
    job_page,
    measured_page,
    new_job_page,
    paste_page,
    quick_page,
    risk_page,
    scan_page,
    sheet_page,
    start_page,
    static_files,
    steps_page,
    strength_page,
    text_page,
    troubles,
    ways_page,
)

urlpatterns = [
    path("", start_page.start, name="start"),
    path("lines", start_page.lines, name="lines"),
    path("new", new_job_page.new, name="new"),
    path("new/picture", new_job_page.picture, name="new-picture"),
    path("quick", quick_page.questions, name="quick"),
    path("quick/<str:name>/", quick_page.question, name="quick-question"),
    path("quick/<str:name>/answer", quick_page.answered, name="quick-answer"),
    path("quick/<str:name>/print/<str:which>", quick_page.quick_paper, name="quick-paper"),
    path("enter/<str:token>", door.enter, name="enter"),
    path("q", sheet_page.typed_code, name="typed-code"),
    path("q/<str:code>", sheet_page.sheet, name="sheet"),
    path("leave", door.leave, name="leave"),
    path("static/<str:mark>/<str:name>", static_files.static_file, name="static"),
    path("job/<str:name>/", job_page.show, name="job"),
    path("job/<str:name>/entries", job_page.enter, name="entries"),
    path("job/<str:name>/part", job_page.change_parts, name="part"),
    path("job/<str:name>/passed", job_page.passed, name="passed"),
    path("job/<str:name>/judged", job_page.judged, name="judged"),
    path("job/<str:name>/hole/<int:number>", hole_page.hole, name="hole"),
    path("job/<str:name>/strength", strength_page.strength, name="strength"),
    path("job/<str:name>/strength/cancel", strength_page.cancel_strength, name="strength-cancel"),
    path("job/<str:name>/strength/again", strength_page.strength_again, name="strength-again"),
    path("job/<str:name>/strength/report", strength_page.strength_report, name="strength-report"),
    path("job/<str:name>/undo", job_page.step_back, name="undo"),
    path("job/<str:name>/choice", job_page.choose, name="choice"),
    path("job/<str:name>/acknowledged", job_page.acknowledge, name="acknowledge"),
    path("job/<str:name>/risk", risk_page.risk, name="risk"),
    path("job/<str:name>/risk/scatter", risk_page.enter_scatter, name="risk-scatter"),
    path("job/<str:name>/ways", ways_page.ways, name="ways"),
    path("job/<str:name>/way", ways_page.take, name="way"),
    path("job/<str:name>/paste", paste_page.paste, name="paste"),
    path("job/<str:name>/compare", compare_page.compare, name="compare"),
    path("job/<str:name>/measured", measured_page.measured, name="measured"),
    path("job/<str:name>/scan", scan_page.scan, name="scan"),
    path("job/<str:name>/scan/state", scan_page.scan_state, name="scan-state"),
    path("job/<str:name>/scan/cancel", scan_page.cancel_scan, name="scan-cancel"),
    path("job/<str:name>/another", another_page.another, name="another"),
    path("job/<str:name>/steps", steps_page.steps, name="steps"),
    path("job/<str:name>/text", text_page.text, name="text"),
    path("job/<str:name>/papers", downloads.papers, name="papers"),
    path("job/<str:name>/papers/state", downloads.papers_state, name="papers-state"),
    path("job/<str:name>/papers/cancel", downloads.cancel_papers, name="papers-cancel"),
    path("job/<str:name>/papers/again", downloads.papers_again, name="papers-again"),
    path("job/<str:name>/papers/<str:key>/<str:file>", downloads.paper, name="paper"),
]
handler400 = troubles.bad_request
handler403 = troubles.refused
handler404 = troubles.not_found
handler500 = troubles.broken
