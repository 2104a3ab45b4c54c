"""Plane geometry: closed profiles of lines and circular arcs, offset and joined exactly (NumPy only)."""
