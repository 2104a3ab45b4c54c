"""Hatchwright: plan an opening in an aircraft skin, every number with its source."""
