"""Orchestration: settings, command line, ingest, the week, schedules; the only room that knows the workspace."""

import os

# The linear algebra library's threads fight the frame library's: measured six times slower on two cores. Read at the
# first import of numpy, so it is set here, before any other module of ours is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
