"""The one place where a judgement, a length, a place or a date becomes text, in the unit and language asked for."""
