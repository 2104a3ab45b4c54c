"""Reading back: every written file is read by other code than wrote it and compared with the sheet."""

from hatchwright.drawings.writers.readback.dxf import verify_dxf
from hatchwright.drawings.writers.readback.pdf import verify_pdf
from hatchwright.drawings.writers.readback.svg import verify_svg
from hatchwright.drawings.writers.readback.three_mf import verify_three_mf

__all__ = ["verify_dxf", "verify_pdf", "verify_svg", "verify_three_mf"]
