-- Grain: one row per as_of, style and feature. as_of: owned by result_set.
from style
