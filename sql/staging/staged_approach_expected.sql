-- Grain: one row per measured approach. landing_id, measured_key: owned by measurement.
from approach_expected
