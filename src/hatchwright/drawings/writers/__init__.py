"""Writers: one file per format; each knows the neutral sheet, profiles, and its own library, nothing else."""

from hatchwright.drawings.writers.paper import AnyPaper, Paper, corrected
from hatchwright.drawings.writers.svg import screen_svg_of
from hatchwright.drawings.writers.write import Format, file_suffix, write, write_solid

__all__ = ["AnyPaper", "Format", "Paper", "corrected", "file_suffix", "screen_svg_of", "write", "write_solid"]
