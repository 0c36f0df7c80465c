"""Directions against magnetic north in, the same against true north out, by the World Magnetic Model.

The declination is that of the log's own places on the log's own date; without either a magnetic direction is left out,
because a declination that is guessed would turn every crab and every wind.
"""

from collections.abc import Mapping
from datetime import UTC, datetime
from functools import cache

import numpy as np
from pygeomag import GeoMag
from pygeomag.geomag import GeoMagResult

from pipeline.channels import CHANNELS
from pipeline.recording import Floats, Samples

MODEL_YEARS = (2010, 2030)
"""First year with a model, and the year in which the last one ends."""
_KNOTS_S = 600.0
"""The declination is computed this often and interpolated: a jet crosses some 80 nautical miles in that time, over
which it bends by a few hundredths of a degree."""
_WEAK_NT = 2_000.0
"""Below this horizontal intensity a compass is not to be relied on: the World Magnetic Model's blackout zone."""


def true_directions(
    channels: Mapping[str, Samples], flown_at: datetime | None
) -> tuple[dict[str, Samples], tuple[str, ...]]:
    """The channels with every magnetic direction turned to the true one it becomes, and notes of what was done.

    A channel of true directions that is there already stands. A magnetic one is left out, with a note, where the log
    has no position, its date is not known or no model is of that date, or the field there is too weak for a compass.
    """
    magnetic = {name: becomes for name in channels if (becomes := CHANNELS[name].becomes) is not None}
    kept = {name: samples for name, samples in channels.items() if name not in magnetic}
    notes: list[str] = []
    for name, becomes in magnetic.items():
        key = CHANNELS[name].key
        if becomes in kept:
            notes.append(f"{key} left out: the log has {CHANNELS[becomes].key} itself")
            continue
        turned, note = _turned(channels, name, flown_at)
        notes.append(f"{key} {note}")
        if turned is not None:
            kept[becomes] = turned
    return kept, tuple(notes)


def declination(lat: float, lon: float, at: datetime) -> tuple[float, float] | None:
    """Declination, deg, positive east, at sea level, with its standard uncertainty; None without a model or a field.

    The uncertainty is the model's own error estimate; before 2015, which has none, that of 2015.
    """
    if not MODEL_YEARS[0] <= at.astimezone(UTC).year < MODEL_YEARS[1]:
        return None
    field = _model(at.astimezone(UTC).year).calculate(glat=lat, glon=lon, alt=0.0, time=_decimal_year(at))
    if field.h < _WEAK_NT:
        return None
    return float(field.d), _uncertainty(field)


def _turned(channels: Mapping[str, Samples], name: str, flown_at: datetime | None) -> tuple[Samples | None, str]:
    """The channel against true north, None where it cannot be told, and what is to be said of it."""
    lat, lon = channels.get("latitude_deg"), channels.get("longitude_deg")
    if lat is None or lon is None:
        return None, "left out: without position its declination is not known; map latitude and longitude"
    if flown_at is None:
        return None, (
            "left out: without a date its declination is not known; state flown_at in the manifest, or map a time"
            " column with dates"
        )
    t = np.arange(lat.t[0], lat.t[-1] + _KNOTS_S, _KNOTS_S)
    places = zip(np.interp(t, lat.t, lat.value), _longitude(t, lon), strict=True)
    found = [declination(*place, flown_at) for place in places]
    if any(each is None for each in found):
        return None, (
            f"left out: no magnetic model for {flown_at.year}, or the field there is too weak for a compass; the models"
            f" are of {MODEL_YEARS[0]} to {MODEL_YEARS[1] - 1}"
        )
    east, u = (np.array(each) for each in zip(*(each for each in found if each is not None), strict=True))
    samples = channels[name]
    value = np.mod(samples.value + np.interp(samples.t, t, np.unwrap(east, period=360.0)), 360.0)
    said = f"turned to true: declination {_span(east)}, {u.max():.1f} deg uncertain"
    return Samples(samples.t, value), said


def _longitude(t: Floats, lon: Samples) -> Floats:
    value = np.interp(t, lon.t, np.unwrap(lon.value, period=360.0))
    return np.mod(value + 180.0, 360.0) - 180.0


def _span(east: Floats) -> str:
    low, high = float(east.min()), float(east.max())
    return f"{low:+.1f} deg" if high - low < 0.1 else f"{low:+.1f} to {high:+.1f} deg"


@cache
def _model(year: int) -> GeoMag:
    return GeoMag(base_year=year)


def _decimal_year(at: datetime) -> float:
    moment = at.astimezone(UTC)
    first, after = datetime(moment.year, 1, 1, tzinfo=UTC), datetime(moment.year + 1, 1, 1, tzinfo=UTC)
    return moment.year + (moment - first) / (after - first)


def _uncertainty(field: GeoMagResult) -> float:
    if field.time >= 2015.0:
        return float(field.calculate_uncertainty().d)
    return float(np.hypot(0.23, 5430.0 / field.h))  # error model of WMM2015
