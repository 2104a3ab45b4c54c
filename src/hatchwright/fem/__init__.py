"""Finite elements for an opening in a sheet: stress round it, loads of its fasteners, and buckling.

Knows sheets, fasteners and running loads only. `analyze` solves a model once, `UnitSolution.combine` gives the response
to any load, `analyze_twice` adds the error of the grid, `panel` prepares for buckling.
Method and limits: docs/theory/fem.md.
"""
