"""Landings find their runway by place and track."""

import numpy as np
import polars as pl
import pytest
from pyproj import Geod

from pipeline.runway_match import course_deg, match_runways

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
        (0.0, 30.003, np.nan, None),
        (0.0, 30.003, 180.0, None),
        (0.2, 30.003, 90.0, None),
        (0.0, 29.9, 90.0, None),
        (np.nan, np.nan, 90.0, None),
    ],
)
def test_place_and_track_decide(lat, lon, track, name):
    """The nearest centreline in the direction of flight wins; off every runway there is none."""
    found = match_runways(np.array([lat]), np.array([lon]), np.array([track]), runways=RUNWAYS)

    assert found.runway[0] == name


@pytest.mark.parametrize(
    ("lat", "track", "why"),
    [(np.nan, 90.0, "no position"), (0.2, 90.0, "none fits"), (0.0, np.nan, "several fit"), (0.0, 90.0, None)],
)
def test_a_landing_without_a_runway_says_why(lat, track, why):
    """No position, no runway there, or several: without a track both ends of a pavement fit."""
    found = match_runways(np.array([lat]), np.array([30.003]), np.array([track]), runways=RUNWAYS)

    assert found.why[0] == why


FT_A_DEG = 365_221.4
"""Length of a degree of longitude on the equator: 2 pi 6,378,137 m / 360; of latitude there 0.7 % less."""


def parallel(*offsets_ft: float) -> pl.DataFrame:
    """Runways due east from 30 E, each so far north of the equator."""
    return pl.DataFrame(
        {
            "runway": [f"09 at {offset:g}" for offset in offsets_ft],
            "threshold_lat": [offset / FT_A_DEG for offset in offsets_ft],
            "threshold_lon": [30.0] * len(offsets_ft),
            "true_heading_deg": [90.0] * len(offsets_ft),
            "length_ft": [8000.0] * len(offsets_ft),
        }
    )


@pytest.mark.parametrize(
    ("off_ft", "name"),
    [(0.0, "09 at 0"), (150.0, "09 at 0"), (350.0, None), (550.0, "09 at 700"), (700.0, "09 at 700")],
)
def test_of_parallel_runways_the_nearer_wins_where_it_is_clearly_nearer(off_ft, name):
    """Half way between two centrelines 700 ft apart nobody can tell."""
    found = match_runways(
        np.array([off_ft / FT_A_DEG]), np.array([30.003]), np.array([90.0]), runways=parallel(0.0, 700.0)
    )

    assert found.runway[0] == name


def test_of_crossing_runways_the_one_along_the_track_wins():
    """At the crossing both centrelines are equally near; 20 deg apart the track tells, half way it does not."""
    crossing = parallel(0.0, 0.0).with_columns(runway=pl.Series(["09", "07"]), true_heading_deg=pl.Series([90.0, 70.0]))
    tracks = np.array([91.0, 69.0, 80.0])
    found = match_runways(np.zeros(3), np.full(3, 30.0), tracks, runways=crossing)

    assert found.runway.tolist() == ["09", "07", None]


def test_many_places_and_thousands_of_runways_agree_with_one_by_one():
    """Matched together or alone, far from home or not, each landing has the same runway: its own."""
    rng = np.random.default_rng(4)
    n = 4000
    lat, lon = np.degrees(np.arcsin(rng.uniform(-0.95, 0.95, n))), rng.uniform(-180.0, 180.0, n)
    heading = rng.uniform(0.0, 360.0, n)
    names = [f"R{i}" for i in range(n)]
    runways = pl.DataFrame(
        {
            "runway": names,
            "threshold_lat": lat,
            "threshold_lon": lon,
            "true_heading_deg": heading,
            "length_ft": [9000.0] * n,
        }
    )
    chosen = rng.integers(0, n, 300)
    at_lon, at_lat, _ = Geod(ellps="WGS84").fwd(lon[chosen], lat[chosen], heading[chosen], rng.uniform(0, 900.0, 300))
    at = (np.asarray(at_lat), np.asarray(at_lon), heading[chosen] + rng.normal(0.0, 3.0, 300))
    together = match_runways(*at, runways=runways)
    alone = [match_runways(*(x[i : i + 1] for x in at), runways=runways).runway[0] for i in range(20)]

    assert together.runway.tolist() == [names[i] for i in chosen]
    assert alone == together.runway[:20].tolist()


def test_the_date_line_parts_no_runway():
    """A runway at 180 E is found from 179.99 W."""
    runways = parallel(0.0).with_columns(threshold_lon=pl.lit(179.999))
    found = match_runways(np.array([0.0]), np.array([-179.998]), np.array([90.0]), runways=runways)

    assert found.runway[0] == "09 at 0"


def test_course_is_told_by_the_places_themselves():
    """East along the equator is 90 deg; one place, or places that do not move, tell nothing."""
    lat = np.zeros((4, 3))
    lon = np.array([[30.0, 30.01, 30.02], [30.02, np.nan, 30.0], [np.nan, 30.0, np.nan], [30.0, 30.0, 30.0]])

    assert course_deg(lat, lon) == pytest.approx([90.0, 270.0, np.nan, np.nan], nan_ok=True)
