"""Measuring a part from one flat scan: from the bytes of a picture to values with their uncertainty.

Method: docs/theory/scan.md.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from msgspec import Struct

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.budget import Budget, Scanner, edge_bias_in, print_in, turn_u_deg
from hatchwright.inspection.scan.calibration import Calibration, calibrate
from hatchwright.inspection.scan.card import Card, find_card
from hatchwright.inspection.scan.dots import find_dots
from hatchwright.inspection.scan.edges import Edge, fine_edge
from hatchwright.inspection.scan.fitting import Fitted
from hatchwright.inspection.scan.picture import read_picture
from hatchwright.inspection.scan.traced import Told, hole_in, told_shape, trace
from hatchwright.inspection.scan.values import Scan, ScannedHole, Shape, ShapeKind, Traced, Value
from hatchwright.inspection.scan.window import OPENING_IN, look_in
from hatchwright.said import inch
from hatchwright.shapes.pieces import Floats
