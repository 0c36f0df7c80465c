-- Grain: one row per as_of and flag. as_of: owned by result_set.
from drift_flag
