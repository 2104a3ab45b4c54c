"""Drawings: a neutral sheet that knows no file format, and the writers that turn it into files."""
