-- Grain: one row per measured approach and fault. landing_id, measured_key: owned by measurement.
from fault
