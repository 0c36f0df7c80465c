"""The canonical channels: one table from which readers, documentation, schema comments and axis titles derive.

A channel's name ends in its unit; its key in a channel map is the name without that unit.
"""

from dataclasses import dataclass
from typing import Literal

Kind = Literal["number", "angle", "switch"]


@dataclass(frozen=True)
class Channel:
    """One canonical channel.

    Parameters
    ----------
    name : canonical name with the unit suffix, as frames carry it.
    key : the name a channel map uses.
    unit : unit the values have after reading, as the units library spells it; "" for switches (0 or 1).
    kind : "number" is interpolated, "angle" is interpolated on the circle [0, 360), "switch" is held.
    low, high : plausible range in `unit`; a sample outside it is no measurement.
    positive : the direction that counts positive, as the map spells it, or None where a sign means nothing.
    title : words for an axis or a table.
    becomes : the channel that reading makes of it, where it is one of those a recording never holds; else None.
    """

    name: str
    key: str
    unit: str
    kind: Kind
    low: float
    high: float
    positive: str | None
    title: str
    becomes: str | None = None


def _number(  # noqa: PLR0913 - one row of the table below
    key: str, suffix: str, unit: str, low: float, high: float, positive: str | None, title: str
) -> Channel:
    return Channel(f"{key}_{suffix}", key, unit, "number", low, high, positive, title)


def _angle(key: str, title: str) -> Channel:
    return Channel(f"{key}_deg", key, "deg", "angle", -360.0, 720.0, None, title)


def _magnetic(key: str, title: str, becomes: str) -> Channel:
    return Channel(f"{key}_deg", key, "deg", "angle", -360.0, 720.0, None, title, becomes)


def _switch(key: str, title: str) -> Channel:
    return Channel(key, key, "", "switch", 0.0, 1.0, None, title)


CHANNELS: dict[str, Channel] = {
    channel.name: channel
    for channel in (
        _number("radio_height", "ft", "ft", -100, 8000, "up", "Radio height"),
        _number("pressure_altitude", "ft", "ft", -2000, 60000, "up", "Pressure altitude"),
        _number("geometric_altitude", "ft", "ft", -2000, 60000, "up", "Geometric altitude"),
        _number("vertical_speed", "fpm", "ft/min", -12000, 12000, "up", "Vertical speed"),
        _number("airspeed", "kt", "kt", 0, 600, None, "Airspeed"),
        _number("ground_speed", "kt", "kt", 0, 700, None, "Ground speed"),
        _number("pitch", "deg", "deg", -60, 60, "up", "Pitch"),
        _number("roll", "deg", "deg", -180, 180, "right", "Roll"),
        _angle("heading_true", "True heading"),
        _angle("track_true", "True track"),
        _number("normal_accel", "g", "g", -3, 6, "up", "Normal acceleration"),
        _number("longitudinal_accel", "g", "g", -2, 2, None, "Longitudinal acceleration"),
        _number("lateral_accel", "g", "g", -2, 2, "right", "Lateral acceleration"),
        _number("thrust_lever", "pct", "%", -120, 120, None, "Thrust lever"),
        _number("engine_speed", "pct", "%", 0, 130, None, "Engine speed"),
        _number("fuel_flow", "kg_h", "kg/h", 0, 40000, None, "Fuel flow"),
        _switch("main_on_ground", "Main wheels on ground"),
        _switch("nose_on_ground", "Nose wheel on ground"),
        _switch("gear_down", "Gear down"),
        _number("flap", "deg", "deg", -5, 90, None, "Flap"),
        _number("localiser", "dots", "dots", -20, 20, "right", "Localiser deviation"),
        _number("glideslope", "dots", "dots", -20, 20, "above", "Glideslope deviation"),
        _number("latitude", "deg", "deg", -90, 90, None, "Latitude"),
        _number("longitude", "deg", "deg", -180, 180, None, "Longitude"),
        _number("spoiler", "pct", "%", -5, 120, None, "Spoiler"),
        _number("reverse", "pct", "%", -5, 120, None, "Reverse thrust"),
        _number("brake", "pct", "%", -5, 120, None, "Brake"),
        _switch("autopilot_on", "Autopilot engaged"),
        _switch("autothrottle_on", "Autothrust engaged"),
        _number("wind_speed", "kt", "kt", 0, 200, None, "Wind speed"),
        _angle("wind_from_true", "Wind from (true)"),
        _number("gross_weight", "kg", "kg", 100, 700000, None, "Gross weight"),
        _magnetic("heading_magnetic", "Magnetic heading", "heading_true_deg"),
        _magnetic("track_magnetic", "Magnetic track", "track_true_deg"),
        _magnetic("wind_from_magnetic", "Wind from (magnetic)", "wind_from_true_deg"),
    )
}

BY_KEY: dict[str, Channel] = {channel.key: channel for channel in CHANNELS.values()}
