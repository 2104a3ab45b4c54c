"""How large a standard deviation may really be that was worked out from few readings.

Method: docs/theory/risk.md, eq. 10.   Source: [NIST-HANDBOOK], 7.2.3.1.
"""

from __future__ import annotations

import math

from hatchwright.errors import GeometryError
from hatchwright.metrology.real_offset import LEVEL


def deviation_limit(deviation: float, freedom: float, level: float = LEVEL) -> float:
    """The true standard deviation stays under this at the stated level of confidence, by chi-square [same unit].

    Args:
        deviation: as estimated [any unit].
        freedom: degrees of freedom of the estimate, 1 or more [-].
    Raises:
        GeometryError: less than one degree of freedom.

    >>> round(deviation_limit(1.0, 10), 3)
    1.593
    """
    if not freedom >= 1.0:
        raise GeometryError.saying("risk.no_freedom", where="freedom")
    from scipy.special import chdtri

    return deviation * math.sqrt(freedom / float(chdtri(freedom, level)))
