"""Strength of the opened and reinforced skin: hand methods, margins and the report that an engineer can
recompute.
"""
