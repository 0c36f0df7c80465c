-- Grain: one row per note. landing_id: owned by approach.
from note
