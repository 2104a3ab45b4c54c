"""The job file and its models."""

import os

# What is read from a job is decided here alone: pydantic would look through all that is installed for code that may
# change how models read, at every start.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
