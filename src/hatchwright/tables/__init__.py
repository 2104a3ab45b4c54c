"""Published values as data, one CSV a table, and the look-ups that give each value with its source.

Every row ends with `source, place, edition, basis`; the keys are explained in `docs/references.md`.
Nothing is extrapolated, nothing is interpolated unseen: outside a table the look-up raises `TableError`.
"""
