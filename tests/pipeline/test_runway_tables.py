"""A user's own runway stands over an imported one, by name and by place."""

import polars as pl
import pytest

from pipeline.reading.runways import RUNWAY
from pipeline.runway_tables import one_table

FT_A_DEG = 365_221.4
"""Length of a degree of longitude on the equator: 2 pi 6,378,137 m / 360."""


def runways(*ends: tuple[str, float, float, float]) -> pl.DataFrame:
    rows = [
        {"runway": name, "threshold_lat": lat, "threshold_lon": lon, "true_heading_deg": heading, "length_ft": 8000.0}
        for name, lat, lon, heading in ends
    ]
    return pl.DataFrame(rows, schema=RUNWAY)


@pytest.mark.parametrize(
    ("name", "lat", "lon", "heading", "kept"),
    [
        ("Field 09", 5.0, 5.0, 90.0, False),
        ("XXAA 09", 0.0, 30.0, 90.0, False),
        ("XXAA 09", 0.0, 30.0 + 1000 / FT_A_DEG, 91.0, False),
        ("XXAA 27", 0.0, 30.0 + 8000 / FT_A_DEG, 270.0, True),
        ("XXAA 09R", -700 / FT_A_DEG, 30.0, 90.0, True),
        ("XXBB 09", 0.0, 31.0, 90.0, True),
    ],
    ids=["same name", "same place", "displaced threshold", "other end", "parallel", "elsewhere"],
)
def test_an_imported_end_gives_way_where_it_is_the_same(name, lat, lon, heading, kept):
    """The same name, or the same threshold give or take a displacement; not the other end nor a parallel runway."""
    found = one_table(runways(("Field 09", 0.0, 30.0, 90.0)), runways((name, lat, lon, heading)))

    assert found["runway"].to_list() == ["Field 09", *([name] if kept else [])]


def test_one_table_alone_stays_as_it_is():
    """Without the one, the other."""
    ends, none = runways(("A 09", 0.0, 30.0, 90.0)), runways()

    assert one_table(ends, none).equals(ends)
    assert one_table(none, ends).equals(ends)
