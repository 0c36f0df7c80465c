-- Grain: one row per as_of, pilot, aircraft type and fault. as_of: owned by result_set.
from fault_share
