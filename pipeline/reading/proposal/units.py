"""A column, a channel and what is said of its unit in; the unit, how sure it is, and why, out."""

from dataclasses import dataclass

import numpy as np

from pipeline.channels import Channel
from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.unit_words import UNITS_OF
from pipeline.reading.units import convert
from pipeline.recording import Floats

_NO_NAME = 0.75
"""Share of logs that write a length or speed in the trade's own unit without saying so (our own choice)."""
_USUAL: dict[str, tuple[float, float]] = {
    "radio_height": (200, 8000), "pressure_altitude": (200, 55_000), "geometric_altitude": (200, 55_000),
    "vertical_speed": (150, 7000), "airspeed": (35, 450), "ground_speed": (25, 550), "pitch": (1.0, 40),
    "roll": (0.5, 75),
    "heading_true": (10, 360), "track_true": (10, 360), "normal_accel": (0.02, 3.5), "longitudinal_accel": (0.02, 1.0),
    "lateral_accel": (0.004, 1.0), "thrust_lever": (15, 115), "engine_speed": (25, 120), "fuel_flow": (4, 15_000),
    "flap": (4, 60), "localiser": (0.02, 8), "glideslope": (0.05, 8), "latitude": (0.001, 90),
    "longitude": (0.001, 180),
    "spoiler": (20, 110), "reverse": (15, 110), "brake": (3, 110), "wind_speed": (0.5, 120), "wind_from_true": (0, 360),
    "heading_magnetic": (10, 360), "track_magnetic": (10, 360), "wind_from_magnetic": (0, 360),
    "gross_weight": (250, 650_000),
}  # fmt: skip
"""How large the largest values of a channel are over a flight with a landing, canonical unit (common practice)."""


@dataclass(frozen=True)
class UnitSaid:
    """The unit, None where a switch has none; how sure, 0 to 1; the evidence; `why` it is not surer."""

    unit: str | None
    confidence: float
    words: str
    why: str


def units_of(channel: Channel) -> tuple[str, ...]:
    """Units in which logs write a channel; of the parts of full travel only a lever is also told by its angle."""
    if channel.key in ("latitude", "longitude"):
        return ("deg",)
    units = UNITS_OF[channel.unit]
    return tuple(u for u in units if u != "deg") if channel.unit == "%" and channel.key != "thrust_lever" else units


def fits_range(channel: Channel, value: Floats, stated: str | None) -> bool:
    """Whether the values could be the channel in some unit it is written in."""
    if channel.kind == "switch":
        return True
    units = (stated,) if stated in units_of(channel) else units_of(channel)
    return bool(_plausible(channel, value, units))


def unit_of_column(channel: Channel, value: Floats, stated: str | None, findings: list[Finding]) -> UnitSaid:
    """Settle the unit: what the name or a row of units states, what the values say, else what is usual and fits."""
    if channel.kind == "switch":
        return UnitSaid(None, 1.0, "", "")
    shown = [f.unit for f in findings if f.unit is not None and f.points > 0.0]
    told = shown[0] if shown and len(set(shown)) == 1 else None
    if stated in units_of(channel):
        if told is None:
            return UnitSaid(stated, 0.97, f"{stated} is stated", "")
        if told == stated:
            return UnitSaid(stated, 0.995, f"{stated} is stated and fits", "")
        return UnitSaid(told, 0.4, "", f"{stated} is stated, but the values say {told}")
    if told is not None:
        return UnitSaid(told, 0.97, f"{told} by its values", "")
    return _usual(channel, value)


def _usual(channel: Channel, value: Floats) -> UnitSaid:
    """Nothing says the unit: those in which the values would be as large as they usually are."""
    fitting = _plausible(channel, value, units_of(channel))
    if channel.key == "flap" and np.nanmax(value) <= 1.05:
        return UnitSaid("fraction", 0.5, "", "a part of full flap, or radians?")
    if not fitting:
        return UnitSaid(channel.unit, 0.1, "", "in no unit are the values as large as they usually are")
    if len(fitting) == 1:
        return UnitSaid(fitting[0], 0.93, f"{fitting[0]} by its size", "")
    others = " or ".join(fitting[1:])
    return UnitSaid(
        fitting[0],
        _NO_NAME if channel.unit not in ("kg", "kg/h") else 0.5,
        "",
        f"{fitting[0]}, or {others}? no unit is stated",
    )


def _plausible(channel: Channel, value: Floats, units: tuple[str, ...]) -> list[str]:
    held = value[np.isfinite(value)]
    low, high = np.quantile(held, [0.01, 0.99])
    size = max(abs(float(low)), abs(float(high)))
    least, most = _USUAL[channel.key]
    fitting = []
    for unit in units:
        scale = _scale(unit, channel)
        within = channel.low <= float(low) * scale and float(high) * scale <= channel.high
        if within and least <= size * scale <= most:
            fitting.append(unit)
    return fitting


def _scale(unit: str, channel: Channel) -> float:
    if unit == "dots":
        return 1.0
    if channel.unit == "dots":
        return 1.0 / 0.35
    if channel.unit == "%" and unit == "deg":
        return 1.0
    return convert(unit, channel.unit)
