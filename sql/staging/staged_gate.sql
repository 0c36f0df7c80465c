-- Grain: one row per measured approach and gate. landing_id, measured_key: owned by measurement.
from gate
