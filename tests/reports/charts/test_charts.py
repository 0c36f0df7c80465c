"""Charts as specifications: valid, small, told in words, and to scale."""

import altair as alt
import polars as pl
import pytest

from pipeline.policy import Limits
from reports.charts import drift, flare, groups, look, runway, trend
from reports.pilot import PilotView, pilot_view
from reports.training import training_view

STRIP = {
    "runway": "Undry 08",
    "length_ft": 6000.0,
    "width_ft": 150.0,
    "displaced_threshold_ft": 600.0,
    "aim_point_ft": 1000.0,
}


@pytest.fixture(scope="module")
def view(edition) -> PilotView:
    data = edition()
    return pilot_view(data, data.flown(), "P-00001")


@pytest.fixture(scope="module")
def charts(edition, view) -> list[look.Chart]:
    data = edition()
    training = training_view(data, data.flown())
    pilots = [*view.runways, *view.flares, *view.trends, *view.drifts, *view.styles]
    return [*pilots, *training.gates, *(chart for _, group in training.outcomes for chart in group)]


def test_every_chart_is_valid_small_and_told_in_words(charts):
    """Valid by the grammar's own schema with its data in; at most 2,000 rows; a description for who cannot see it."""
    assert len(charts) > 8
    for chart in charts:
        alt.Chart.from_dict(chart.spec)

        assert sum(len(rows) for rows in chart.spec["datasets"].values()) <= look.MOST_ROWS
        assert chart.spec["description"] == chart.description
        assert any(letter.isdigit() for letter in chart.description)


def test_a_chart_of_too_many_rows_is_refused():
    """The caller must aggregate: a page never grows without bound."""
    rows = pl.DataFrame({"x": range(look.MOST_ROWS + 1)})

    with pytest.raises(ValueError, match="aggregate first"):
        look.filled({}, {"rows": rows}, description="too many")


@pytest.mark.parametrize(
    ("length", "displaced", "far"), [(12000.0, 0.0, 3000.0), (6000.0, 600.0, 1800.0), (6000.0, None, 2000.0)]
)
def test_the_zone_ends_at_a_third_of_what_is_available(length, displaced, far):
    """Touchdown zone: first 3,000 ft or first third, whichever is less (common operator text); a displaced threshold counts."""
    row = {"length_ft": length, "displaced_threshold_ft": displaced}

    assert runway.zone(row, Limits()) == (500.0, far)


def test_a_touchdown_is_drawn_where_it_was_with_its_uncertainty():
    """In feet from the landing threshold; the band of 90 % is 1.645 u either side; pavement lies before the threshold too."""
    week = pl.DataFrame(
        {
            "number": [1, 2],
            "key": ["1", "2"],
            "label": ["1, Mon", "2, Tue"],
            "touchdown_distance_ft": [1200.0, 2100.0],
            "touchdown_distance_ft_u": [60.0, None],
            "touchdown_lateral_ft": [8.0, None],
        }
    )

    chart = runway.touchdowns(week, STRIP, limits=Limits(), usual=(900.0, 1500.0))
    rows, surface = chart.spec["datasets"]["rows"], chart.spec["datasets"]["surface"]

    assert [(row["x"], row["low"], row["high"]) for row in rows] == [
        (1200.0, pytest.approx(1101.3), pytest.approx(1298.7)),
        (2100.0, 2100.0, 2100.0),
    ]
    assert next(part for part in surface if part["kind"] == "displaced")["x"] == -600.0
    assert next(part for part in surface if part["kind"] == "zone")["x2"] == 1800.0
    assert "displaced by 600 ft" in chart.caption


def test_a_band_of_flares_needs_enough_landings_at_each_instant():
    """Median and 10 to 90 % of nine landings by hand; an instant only seven have is left out."""
    rows = [(float(i), -1.0, 10.0 * i) for i in range(9)] + [(float(i), 0.0, 1.0) for i in range(7)]
    own = pl.DataFrame(rows, schema=["landing_id", "tau_s", "pitch_deg"], orient="row")

    found = flare.band(own, "pitch_deg").to_dicts()

    assert found == [{"tau_s": -1.0, "n": 9, "low": 8.0, "mid": 40.0, "high": 72.0}]


def test_long_gaps_are_marked_on_the_calendar():
    """More than thirty days without a landing; thirty are no gap."""
    points = pl.DataFrame({"day": ["2026-01-01T00:00", "2026-01-31T00:00", "2026-03-10T00:00"]})

    assert trend.gaps(points).rows() == [("2026-01-31T00:00", "2026-03-10T00:00")]


def test_a_running_band_looks_back_and_never_ahead():
    """The last landing does not move the band of those before it."""
    steady = pl.DataFrame(
        {"sequence": range(1, 41), "day": ["d"] * 40, "peak_g": [1.2 + 0.01 * (i % 5) for i in range(40)]}
    )
    last_odd = steady.with_columns(peak_g=pl.when(pl.col("sequence") == 40).then(3.0).otherwise("peak_g"))

    before, after = (trend.banded(frame, "peak_g").head(39) for frame in (steady, last_odd))

    assert before.equals(after)
    assert before["mid"].null_count() == trend.FEWEST - 1


def test_a_flag_is_drawn_from_its_change_to_where_it_was_raised(edition):
    """Shaded between the two landings; the learning stretch ends where the standing begins."""
    points = pl.DataFrame(
        {
            "sequence": range(1, 101),
            "standing": [None] * 60 + [0.5] * 40,
            "line": [None] * 60 + [0.2] * 40,
            "cusum": [None] * 60 + [1.0] * 40,
            "limit": [None] * 60 + [9.0] * 40,
            "state": ["learning"] * 60 + ["watching"] * 40,
        }
    )
    flags = pl.DataFrame({"change_sequence": [70], "flagged_sequence": [82]})

    each, added = drift.watch(points, flags, toward="long")

    assert each.spec["datasets"]["flags"] == [{"x": 70, "x2": 82}]
    assert added.spec["datasets"]["learning"] == [{"x": 1, "x2": 60.5}]
    assert "limit of 9.0; 1 flag in all" in added.description


def test_two_sets_of_shares_keep_their_order_and_their_row():
    """A group takes one row whether or not it has a "before"."""
    rows = pl.DataFrame(
        {"group": ["b", "a", "b"], "set": ["now", "now", "before"], "share": [0.5, 0.2, 0.4], "low": 0.1, "high": 0.6}
    )

    chart = groups.shares(rows, title="t", caption="c")

    assert chart.spec["height"] == groups.HEAD + 2 * groups.STEP
    assert [row["group"] for row in chart.spec["datasets"]["rows"]] == ["b", "a", "b"]
