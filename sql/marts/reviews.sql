-- Grain: one row per as_of, pilot and measure: the newest review. as_of: owned by result_set.
from review
