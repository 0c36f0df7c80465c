-- Grain: one row per as_of, pilot, chart and landing. as_of: owned by result_set.
from drift_point
