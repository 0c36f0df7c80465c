"""The page of a log's traces: every moment where the measures put it, every number beside its trace."""

import re
from typing import Any

import numpy as np
import polars as pl
import pytest

from pipeline.faults.judging import SCHEMA as FAULT
from pipeline.faults.rules import FAULTS
from pipeline.measures.table import DEFINITION, MEASURES
from reports.charts.trace import MOST_POINTS, Panel, lane, panel
from reports.trace import trace_page, trace_view
from reports.trace_data import Traced, TraceData
from reports.trace_moments import Moment, crosses, moments
from reports.words import MINUS, PLUS_MINUS

MEASURED = {
    "flare_time_s": (4.0, 0.2),
    "pitch_at_flare_deg": (1.0, 0.3),
    "pitch_change_deg": (3.0, 0.1),
    "pitch_rate_dps": (1.5, 0.15),
    "flare_height_ft": (40.0, 1.5),
    "idle_before_contact_s": (1.5, 0.1),
    "thrust_close_time_s": (2.0, 0.24),
    "touchdown_distance_ft": (1200.0, 20.0),
    "distance_from_50ft_ft": (1000.0, 20.0),
    "vertical_speed_at_contact_fpm": (-180.0, 12.0),
    "earth_vertical_speed_at_contact_fpm": (-210.0, 12.0),
    "pitch_at_contact_deg": (4.0, 0.3),
    "peak_g": (1.3, 0.03),
}
FPS = 200.0
KT = FPS / (1852.0 / 0.3048 / 3600.0)


def _traced(**changes: Any) -> Traced:
    """A straight descent at 10 ft/s and 200 ft/s over the ground, with the measures above; `changes` to its row."""
    tau = np.arange(-150.0, 12.0, 0.125)
    height = np.maximum(-10.0 * tau, 0.0)
    flat = {
        "ground_speed_kt": np.full(len(tau), KT),
        "airspeed_kt": np.full(len(tau), KT + 5.0),
        "pitch_deg": np.full(len(tau), 2.0),
        "vertical_speed_fpm": np.where(tau < 0.0, -600.0, 0.0),
        "normal_accel_g": 1.0 + 0.3 * np.exp(-(((tau - 0.2) / 0.1) ** 2)),
        "thrust_lever_pct": np.full(len(tau), 30.0),
        "main_on_ground": (tau > 0.1).astype(float),
        "height_ft": height,
    }
    row: dict[str, Any] = {}
    for measure in MEASURES:
        value, quality = MEASURED.get(measure.name, (None, None))
        row |= {
            measure.name: value,
            measure.quality: quality,
            measure.reason: None if value is not None else "no_channel",
        }
    row |= {"landing_id": "x", "landing_index": 0, "exercise": "normal"}
    row |= {"approach_index": 0, "definition": DEFINITION}
    row |= {"outcome": "full_stop", "contact_t_s": 160.0, "contact_u_s": 0.05, "contact_evidence": "height switch"}
    row |= {"landing_mode": "manual", "runway": "Testfield 09", **changes}
    grid = np.arange(-20.0, 5.1, 0.25)
    course = pl.DataFrame({"tau_s": grid, "height_ft": np.maximum(-10.0 * grid, 0.0)})
    samples = {name: pl.DataFrame({"tau_s": tau, "value": value}) for name, value in flat.items()}
    return Traced(row, samples, course, "radio_height_ft", -2.0)


def _data(*traced: Traced, **changes: Any) -> TraceData:
    known = {"log_file": "a.csv", "map_name": "some map", "approaches_in_all": len(traced), "policy_sha256": "f" * 64}
    return TraceData(traced=traced, gate_heights_ft=(1000.0, 500.0), **{**known, **changes})


def _by_name(found: list[Moment]) -> dict[str, Moment]:
    return {moment.name: moment for moment in found}


def test_moments_are_where_the_measures_put_them():
    """Hand-worked: rotation 3 deg at 1.5 deg/s lasts 2 s; 1,200 ft at 200 ft/s take 6 s; 50 ft at 10 ft/s take 5 s."""
    found = _by_name(moments(_traced(), (1000.0, 500.0)))

    expected = {
        "1000 ft gate": -100.0,
        "500 ft gate": -50.0,
        "threshold": -6.0,
        "50 ft": -5.0,
        "flare starts": -4.0,
        "thrust starts to close": -3.5,
        "rotation ends": -2.0,
        "lever idle": -1.5,
        "contact": 0.0,
    }
    assert {name: round(found[name].tau_s, 6) for name in expected} == expected


def test_bands_are_one_standard_uncertainty_and_gates_what_they_are_judged_on():
    """0.2 s about the flare; hypot(0.1, 0.24) = 0.26 s about the lever; 20 ft at 200 ft/s are 0.1 s; a gate looks 2 s back."""
    found = _by_name(moments(_traced(), (500.0,)))

    half = {name: round(0.5 * (found[name].high_s - found[name].low_s), 6) for name in found}
    assert half["flare starts"] == 0.2
    assert half["thrust starts to close"] == 0.26
    assert half["threshold"] == half["50 ft"] == 0.1
    assert half["contact"] == 0.05
    assert (found["500 ft gate"].low_s, found["500 ft gate"].high_s) == pytest.approx((-52.0, -50.0))


def test_what_was_not_measured_is_not_marked():
    """Without a flare and a lever movement there is no such moment; without a contact only the gates are left."""
    without = _traced(
        flare_time_s=None, idle_before_contact_s=None, thrust_close_time_s=None, touchdown_distance_ft=None
    )
    assert set(_by_name(moments(without, (500.0,)))) == {"500 ft gate", "50 ft", "contact"}
    around = _traced(contact_t_s=None, contact_u_s=None, outcome="go_around")
    assert set(_by_name(moments(around, (500.0,)))) == {"500 ft gate"}


def test_a_crossing_is_the_last_one_down():
    """A height that balloons through a level and comes down again is crossed where it stays below."""
    height = np.array([80.0, 40.0, 60.0, 20.0])

    assert crosses(np.arange(4.0), height, 50.0) == pytest.approx(2.25)
    assert crosses(np.arange(4.0), height, 10.0) is None


def test_numbers_stand_on_their_trace():
    """Drawn on the vertical speed is the earth's, not the closure with a sloping runway; 12 ft/min either side."""
    (landing,) = trace_view(_data(_traced())).landings
    spec = next(chart.spec for chart in landing.near if chart.title.startswith("Vertical speed"))
    (point,) = [row for row in spec["datasets"]["measured"] if row["tau_s"] == 0]

    assert (point["value"], point["low"], point["high"]) == (-210, -222, -198)
    assert f"{MINUS}210 {PLUS_MINUS} 12 ft/min" in point["label"].replace("\N{NO-BREAK SPACE}", " ")


def test_samples_are_as_written_and_thinned_in_words():
    """Points are the samples; where there are too many to draw, the caption says which are shown."""
    tau = np.arange(-20.0, 10.0, 1.0 / 128.0)
    samples = pl.DataFrame({"tau_s": tau, "value": np.sin(tau)})
    empty = pl.DataFrame(
        schema={"tau_s": pl.Float64, "value": pl.Float64, "low": pl.Float64, "high": pl.Float64, "label": pl.String}
    )
    drawn = panel(Panel("Pitch", "", samples, samples.clear(), empty), [], (-20.0, 10.0), about="first contact")

    rows = drawn.spec["datasets"]["samples"]
    assert len(rows) <= MOST_POINTS
    assert rows[1]["value"] == pytest.approx(np.sin(rows[1]["tau_s"]), abs=1e-3)
    assert "Every 4th sample is shown." in drawn.caption


def test_a_lane_without_moments_is_not_drawn():
    """Nothing found, nothing drawn."""
    assert lane([], (-20.0, 10.0)) == []


def test_a_channel_that_is_not_believed_is_said_so_beside_its_trace():
    """The suspect is listed and its panel says why."""
    view = trace_view(_data(_traced(), suspect={"vertical_speed_fpm": "reads 0.30 of what the height says"}))

    assert view.suspects == [("Vertical speed", "reads 0.30 of what the height says")]
    (caption,) = [chart.caption for chart in view.landings[0].near if chart.title.startswith("Vertical speed")]
    assert "Not believed: reads 0.30" in caption


def test_a_page_without_an_approach_says_so():
    """A log that never comes down still makes a page."""
    page = trace_page(_data())

    assert "No approaches found in this log." in page
    assert "never comes down to a runway" in page


def test_names_are_inert_and_nothing_is_asked_of_a_network():
    """Markup in a log's name is text; cautions stand in the foot; no address is in the page but the grammar's names."""
    page = trace_page(_data(_traced(), log_file="<script>alert(1)</script>.csv"))
    body = re.sub(r"<script type=\"module\">.*?</script>", "", page, flags=re.DOTALL)

    assert "<script>alert" not in page
    assert "maintenance manual" in body
    assert not re.search(r"(?:src|href)=\"https?:", body)


@pytest.mark.browser
def test_the_page_draws_in_a_browser_and_fits_a_phone(tmp_path, in_browser):
    """Every chart is drawn with a silent console; in a frame of 390 pixels nothing scrolls sideways."""
    page = tmp_path / "page.html"
    page.write_text(trace_page(_data(_traced(), _traced(contact_t_s=None, outcome="go_around"))), encoding="utf-8")
    document, said = in_browser(page)

    drawn = re.search(r'data-drawn="(\d+) of (\d+)"', document)
    assert said == ""
    assert drawn is not None
    assert drawn[1] == drawn[2]
    probe = "<script>setTimeout(()=>parent.postMessage(document.documentElement.scrollWidth,'*'),3000)</script>"
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", page.read_text(encoding="utf-8"))
    (tmp_path / "copy.html").write_text(text.replace("</body>", f"{probe}</body>"), encoding="utf-8")
    (tmp_path / "frame.html").write_text(
        '<iframe src="copy.html" style="width:390px;height:4000px;border:0"></iframe>'
        "<script>onmessage = (event) => { document.documentElement.dataset.wide = event.data; }</script>"
    )
    found = re.search(r'data-wide="(\d+)"', in_browser(tmp_path / "frame.html")[0])
    assert found is not None
    assert int(found[1]) <= 390


def test_one_approach_of_several_says_which_it_is() -> None:
    """An approach that stands alone bears its own number and the definition it was measured by."""
    view = trace_view(_data(_traced(approach_index=2, definition="1"), approaches_in_all=3))

    assert view.opening == ["3 approaches found in this log.", "Approach 2 is shown."]
    assert [landing.heading for landing in view.landings] == ["Approach 2: full stop"]
    assert "Measures definition 1," in view.provenance


def test_faults_stand_with_limit_remedy_and_what_cannot_be_told() -> None:
    """What is beyond doubt has its value, limit and remedy; what the log cannot tell has its reason."""
    rows = [
        {"landing_id": "x", "fault": "float", "verdict": "seen", "value": 9.0, "value_u": 0.3, "limit_value": 6.0},
        {"landing_id": "x", "fault": "off_centreline", "verdict": "cannot_tell", "reason": "no_channel"},
    ]
    page = trace_page(_data(_traced(), faults=pl.DataFrame(rows, schema=FAULT)))
    assert FAULTS["float"].remedy in page
    assert "One landing is no habit" in page
    assert "Cannot be told, the log has no channel for it: off the centreline at contact." in page
