"""Landings find their runway by place and track."""

import numpy as np
import polars as pl
import pytest

from pipeline.runway_match import match_runways

RUNWAYS = pl.DataFrame(
    {
        "runway": ["Field 09", "Field 27", "Field 09L"],
        "threshold_lat": [0.0, 0.0, 0.01],
        "threshold_lon": [30.0, 30.02, 30.0],
        "true_heading_deg": [90.0, 270.0, 90.0],
        "length_ft": [7300.0, 7300.0, 7300.0],
    }
)


@pytest.mark.parametrize(
    ("lat", "lon", "track", "name"),
    [
        (0.0, 30.003, 91.0, "Field 09"),
        (0.0, 30.017, 268.0, "Field 27"),
        (0.0099, 30.003, 90.0, "Field 09L"),
        (0.0, 30.003, np.nan, "Field 09"),
        (0.0, 30.003, 180.0, None),
        (0.2, 30.003, 90.0, None),
        (0.0, 29.9, 90.0, None),
        (np.nan, np.nan, 90.0, None),
    ],
)
def test_place_and_track_decide(lat, lon, track, name):
    """The nearest centreline in the direction of flight wins; off every runway there is none."""
    found = match_runways(np.array([lat]), np.array([lon]), np.array([track]), runways=RUNWAYS)

    assert found[0] == name
