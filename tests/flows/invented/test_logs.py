"""The files say what their maps say: read back with a few lines of arithmetic that share nothing with the writer."""

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import polars as pl
import pytest
from pyproj import Geod

from flows.invented.airframes import JET, LIGHT
from flows.invented.conventions import RECORDERS
from flows.invented.truth import Truth

TO_CANONICAL = {
    "ft": 1.0, "m": 1.0 / 0.3048, "yd": 3.0, "ft/min": 1.0, "m/s": 60.0 / 0.3048, "deg": 1.0,
    "rad": 180.0 / np.pi, "g": 1.0, "m/s2": 1.0 / 9.80665, "%": 1.0, "fraction": 100.0, "dots": 1.0,
}  # fmt: skip
"""What a unit is in feet, feet a minute, degrees, g or percent; vertical speed in knots is left out."""


def _read(path: Path) -> pl.DataFrame:
    return pl.read_parquet(path) if path.suffix == ".parquet" else pl.read_csv(path, infer_schema_length=None)


def _samples(table: pl.DataFrame, rule: dict[str, Any], t: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Times and canonical values of one channel of a map."""
    name = rule.get("column") or rule["columns"][0]
    there = table[name].is_not_null().to_numpy()
    stored = table[name].drop_nulls()
    if "true_when" in rule:
        return t[there], (stored.cast(pl.String) == str(rule["true_when"])).to_numpy().astype(float)
    value = stored.to_numpy().astype(float)
    if "unit" not in rule:
        return t[there], value
    if "idle" in rule:
        return t[there], 100.0 * (value - rule["idle"]) / (rule["full"] - rule["idle"])
    sign = -1.0 if rule.get("positive") in ("down", "below", "left") else 1.0
    return t[there], sign * TO_CANONICAL[rule["unit"]] * (value - rule.get("at_rest", 0.0))


def _seconds(table: pl.DataFrame, time: dict[str, str]) -> np.ndarray:
    """The time column as seconds from the first row."""
    column = table[time["column"]]
    if time["unit"] in ("s", "ms"):
        value = column.to_numpy() / (1000.0 if time["unit"] == "ms" else 1.0)
        return value - value[0]
    if time["unit"] == "iso8601":
        stamps = column.str.to_datetime("%Y-%m-%dT%H:%M:%S%.fZ")
        return (stamps - stamps[0]).dt.total_microseconds().to_numpy() / 1e6
    parts = column.str.split(":").list
    value = sum(parts.get(i).cast(pl.Float64) * 60.0 ** (2 - i) for i in range(3))
    return (value - value[0]).to_numpy()


def _map(inbox: Path, recorder: str) -> dict[str, Any]:
    """The map written for a recorder; canonical names for the one that has none."""
    path = inbox / "maps" / f"{recorder}.toml"
    if path.exists():
        return tomllib.loads(path.read_text(encoding="utf-8"))
    units = {"radio_height": "ft", "pitch": "deg", "normal_accel": "g", "vertical_speed": "ft/min"}
    suffix = {"ft": "ft", "deg": "deg", "g": "g", "ft/min": "fpm"}
    channels: dict[str, Any] = {key: {"column": f"{key}_{suffix[unit]}", "unit": unit} for key, unit in units.items()}
    channels |= {key: {"column": f"{key}_deg", "unit": "deg"} for key in ("latitude", "longitude")}
    channels["main_on_ground"] = {"column": "main_on_ground", "true_when": 1}
    return {"time": {"column": "t_s", "unit": "s"}, "channels": channels}


@pytest.fixture(params=sorted(RECORDERS))
def one(
    request: pytest.FixtureRequest, small: tuple[Path, Truth]
) -> tuple[pl.DataFrame, dict[str, Any], dict[str, Any]]:
    """A full stop of each recorder: its table, its map, its truth."""
    inbox, truth = small
    single = pl.col("log_file").is_unique() & (pl.col("recorder") == request.param) & (pl.col("outcome") == "full_stop")
    row = truth.landings.filter(single).row(0, named=True)
    return _read(inbox / row["log_file"]), _map(inbox, request.param), row


def test_every_column_the_map_names_is_in_the_log(one: tuple[pl.DataFrame, dict[str, Any], dict[str, Any]]) -> None:
    """And nothing else is in it but time."""
    table, mapped, row = one
    named = {name for rule in mapped["channels"].values() for name in [rule.get("column"), *rule.get("columns", [])]}

    assert named - {None} | {mapped["time"]["column"]} <= set(table.columns)
    if RECORDERS[row["recorder"]].needs_map:
        assert named - {None} | {mapped["time"]["column"]} == set(table.columns)


def test_rates_are_those_of_the_recorder(one: tuple[pl.DataFrame, dict[str, Any], dict[str, Any]]) -> None:
    """Samples a second of each column, over the whole log."""
    table, mapped, row = one
    t = _seconds(table, mapped["time"])
    for column in RECORDERS[row["recorder"]].columns:
        count = len(table) - table[column.names[0]].null_count()
        assert column.rate_hz == pytest.approx((count - 1) / t[-1], rel=0.02)


def test_height_attitude_and_acceleration_meet_the_truth(
    one: tuple[pl.DataFrame, dict[str, Any], dict[str, Any]],
) -> None:
    """At contact: wheels at zero within 4 ft, pitch within 1.5 deg (a constant error is part of it), 1 g before."""
    table, mapped, row = one
    t, channels, at = _seconds(table, mapped["time"]), mapped["channels"], row["contact_t_s"]

    if "radio_height" in channels:
        assert pytest.approx(np.interp(at, *_samples(table, channels["radio_height"], t)), abs=4.0) == 0.0
    times, pitch = _samples(table, channels["pitch"], t)
    if row["recorder"] != "slow-1":
        assert row["pitch_at_contact_deg"] == pytest.approx(np.interp(at, times, pitch), abs=1.5)
    times, load = _samples(table, channels["normal_accel"], t)
    load = load + (1.0 if "at_rest" in channels["normal_accel"] else 0.0)
    assert pytest.approx(load[times < at - 10.0].mean(), abs=0.06) == 1.0


def test_descent_has_the_sign_the_map_says(one: tuple[pl.DataFrame, dict[str, Any], dict[str, Any]]) -> None:
    """On the approach the vertical speed is that of a three-degree path, downward."""
    table, mapped, row = one
    rule = mapped["channels"]["vertical_speed"]
    t = _seconds(table, mapped["time"])
    rule = {**rule, "unit": "ft/min"} if rule["unit"] == "kt" else rule
    factor = 1852.0 / 0.3048 / 60.0 if mapped["channels"]["vertical_speed"]["unit"] == "kt" else 1.0
    times, speed = _samples(table, rule, t)

    mean = factor * speed[(times > 10.0) & (times < row["contact_t_s"] - 15.0)].mean()
    assert -950.0 < mean < -280.0


def test_the_ground_switch_goes_over_at_contact(one: tuple[pl.DataFrame, dict[str, Any], dict[str, Any]]) -> None:
    """Never before, and within its delay, one sample and a bounce after."""
    table, mapped, row = one
    if "main_on_ground" not in mapped["channels"]:
        pytest.skip("this recorder has no ground switch")
    times, down = _samples(table, mapped["channels"]["main_on_ground"], _seconds(table, mapped["time"]))
    first = times[np.argmax(down > 0.5)]

    assert down.max() == 1.0
    assert row["contact_t_s"] - 0.01 <= first <= row["contact_t_s"] + 0.15 + 2.0 * np.diff(times).max() + 1.0


def test_position_at_contact_is_the_touchdown_on_the_globe(
    one: tuple[pl.DataFrame, dict[str, Any], dict[str, Any]], small: tuple[Path, Truth]
) -> None:
    """Distance from the threshold less the antenna's place and the delay's ground: within 25 ft along, 20 ft across."""
    table, mapped, row = one
    runways = pl.read_csv(small[0] / "runways.csv")
    runway = runways.row(by_predicate=pl.col("runway") == row["runway"], named=True)
    t = _seconds(table, mapped["time"])
    late = row["contact_t_s"] + 0.35
    lat = np.interp(late, *_samples(table, mapped["channels"]["latitude"], t))
    lon = np.interp(late, *_samples(table, mapped["channels"]["longitude"], t))

    azimuth, _, away = Geod(ellps="WGS84").inv(runway["threshold_lon"], runway["threshold_lat"], lon, lat)
    turn = np.radians(azimuth - runway["true_heading_deg"])
    ahead = (JET if row["aircraft_type"] == JET.name else LIGHT).antenna_ahead_m
    assert row["touchdown_distance_ft"] == pytest.approx((away * np.cos(turn) - ahead) / 0.3048, abs=25.0)
    assert row["touchdown_lateral_ft"] == pytest.approx(away * np.sin(turn) / 0.3048, abs=20.0)
