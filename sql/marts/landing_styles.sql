-- Grain: one row per as_of and landing. as_of: owned by result_set. style: owned by styles.
from landing_style
