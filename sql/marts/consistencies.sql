-- Grain: one row per as_of, pilot and measure. as_of: owned by result_set.
from consistency
