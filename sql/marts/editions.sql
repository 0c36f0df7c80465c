-- Grain: one row per edition written. as_of: last date whose landings were counted.
from edition
