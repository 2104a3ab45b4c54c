"""3MF: a plate for a machine that builds it up, in the unit of the job, as a zip file of XML made here.

Source of the format: [3MF-CORE].
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from xml.sax.saxutils import escape

from hatchwright.shapes.solid import Solid
from hatchwright.units import MM_PER_IN, Unit

CHORD_ERROR_IN = 1e-4
"""Largest distance between an arc and its chords in a body that is printed [in]. Own choice, no source."""

MODEL = "3D/3dmodel.model"
"""Name of the body inside the file."""

NAME_AND_SCALE: Mapping[Unit, tuple[str, float]] = {"in": ("inch", 1.0), "mm": ("millimeter", MM_PER_IN)}
"""Unit of a job to its name in the format, and what lengths [in] are multiplied by. Source: [3MF-CORE], model unit."""

_TYPES = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    "</Types>\n"
)
_RELATIONS = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    f'<Relationship Id="body" Target="/{MODEL}" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>'
    "</Relationships>\n"
)


def three_mf_of(solid: Solid, *, title: str, description: str = "", unit: Unit = "in") -> bytes:
    """Write a closed body with the words that are kept in the file, the same bytes for the same arguments."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in (
            ("[Content_Types].xml", _TYPES),
            ("_rels/.rels", _RELATIONS),
            (MODEL, _model(solid, title, description, unit)),
        ):
            member = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            member.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(member, text.encode("utf-8"))
    return stream.getvalue()


def _model(solid: Solid, title: str, description: str, unit: Unit) -> str:
    called, scale = NAME_AND_SCALE[unit]
    vertices = "".join(
        f'<vertex x="{x!r}" y="{y!r}" z="{z!r}"/>\n' for x, y, z in (scale * solid.vertices).tolist()
    )
    triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n' for a, b, c in solid.triangles.tolist())
    told = "".join(
        f'<metadata name="{name}">{escape("".join(filter(str.isprintable, words)))}</metadata>\n'
        for name, words in (("Title", title), ("Description", description))
        if words
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<model unit="{called}" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">\n'
        f"{told}"
        '<resources><object id="1" type="model"><mesh>\n'
        f"<vertices>\n{vertices}</vertices>\n<triangles>\n{triangles}</triangles>\n"
        "</mesh></object></resources>\n"
        '<build><item objectid="1"/></build>\n'
        "</model>\n"
    )
