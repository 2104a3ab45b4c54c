"""Reading 3MF back: the unit, what is said of the body, and its every vertex and triangle."""

from __future__ import annotations

import io
import zipfile
from xml.etree import ElementTree

import numpy as np

from hatchwright.drawings.writers.readback.compare import refuse
from hatchwright.drawings.writers.three_mf import MODEL, NAME_AND_SCALE
from hatchwright.errors import GeometryError
from hatchwright.said import said
from hatchwright.shapes.solid import Solid
from hatchwright.units import Unit

PLACE_TOLERANCE_IN = 1e-6
"""Largest difference between a vertex in the file and in the body [in]."""

_WHAT = "3MF"
_CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


def verify_three_mf(data: bytes, solid: Solid, *, description: str = "", unit: Unit = "in") -> None:
    """Read a 3MF file and compare it with its body, its unit and what must be said of it.

    Raises:
        ExportError: it can't be read, is in another unit, does not say what it must, or its body is another or leaks.
    """
    called, scale = NAME_AND_SCALE[unit]
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            if archive.testzip() is not None:
                refuse(_WHAT, said("readback.archive"))
            model = ElementTree.fromstring(archive.read(MODEL))
        if model.get("unit") != called:
            refuse(_WHAT, said("readback.other_unit"))
        told = {one.get("name"): one.text or "" for one in model.findall(f"{_CORE}metadata")}
        if told.get("Description", "") != description:
            refuse(_WHAT, said("readback.description"))
        meshes = model.findall(f"{_CORE}resources/{_CORE}object/{_CORE}mesh")
        if len(meshes) != 1 or len(model.findall(f"{_CORE}build/{_CORE}item")) != 1:
            refuse(_WHAT, said("readback.one_body"))
        vertices = [[float(v.get(axis, "")) for axis in "xyz"] for v in meshes[0].iter(f"{_CORE}vertex")]
        triangles = [[int(t.get(f"v{k}", "")) for k in (1, 2, 3)] for t in meshes[0].iter(f"{_CORE}triangle")]
        read = Solid(np.array(vertices) / scale, np.array(triangles, dtype=np.intp))
        if not np.array_equal(read.triangles, solid.triangles):
            refuse(_WHAT, said("readback.triangles"))
        if (
            read.vertices.shape != solid.vertices.shape
            or not (np.abs(read.vertices - solid.vertices) <= PLACE_TOLERANCE_IN).all()
        ):
            refuse(_WHAT, said("readback.vertex"))
        read.refuse_open()
    except (zipfile.BadZipFile, ElementTree.ParseError, LookupError, ValueError, GeometryError) as error:
        refuse(_WHAT, said("readback.unreadable", why=str(error)))
