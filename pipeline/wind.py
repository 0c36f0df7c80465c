"""What manifest and weather report say of the wind at each landing, settled to one wind with its source.

Goes in: context rows and the instant of each landing. Comes out: the same rows with the wind to measure with.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import polars as pl

from pipeline.weather_report import WeatherReport, read_report

REPORT_WITHIN = timedelta(minutes=90)
"""A report further than this from the landing tells nothing of its wind: routine reports come every 30 or 60 minutes,
one may be missed (our own choice)."""
_LIGHT_KT = 6.0
"""A variable wind up to this is taken as from any side; a stronger one has no known components. Reports may give
variable direction below 6 kt (3 m/s), ICAO Annex 3, appendix 3, from memory."""
_ROUNDED_DEG = 10.0 / 12.0**0.5
"""Directions are reported to 10 deg."""
_Row = dict[str, float | str | bool | None]

READ, NO_WIND, UNREADABLE, FAR_OFF = "read", "no wind in it", "unreadable", "not of this hour"

WIND: dict[str, type[pl.DataType]] = {
    "wind_from_true_deg": pl.Float64,
    "wind_speed_kt": pl.Float64,
    "wind_variable": pl.Boolean,
    "wind_from_u_deg": pl.Float64,
    "gust_spread_kt": pl.Float64,
    "gust_unreported": pl.Boolean,
    "wind_source": pl.String,
    "report_found": pl.String,
    "report_age_min": pl.Int64,
    "report_pressure_hpa": pl.Float64,
}
"""Columns of the settled wind.

`wind_source`: stated (by the manifest) or report; null without either. `wind_variable`: it is light and comes from no
settled side. `gust_unreported`: a report gives the wind and no gust. `report_found`: what became of the report; null
where there was none. `report_age_min`: landing minus report to the minute, negative where the report is the later one.
"""


@dataclass(frozen=True)
class _Reported:
    """A report that was looked at: what it says, None where it cannot be used, what became of it, and its age."""

    report: WeatherReport | None
    found: str | None
    age_min: int | None


def settled_wind(rows: pl.DataFrame, landed_at: Sequence[datetime | None]) -> pl.DataFrame:
    """The rows with the columns of `WIND`; a wind the manifest states stands before the report's.

    `rows` has the context's columns, `landed_at` (rows,) the UTC instant of each landing, None where it is not known: a
    report is then taken as of its hour.
    """
    seen = [_look(text, at) for text, at in zip(rows["weather_report"], landed_at, strict=True)]
    stated = rows.select("wind_from_true_deg", "wind_speed_kt", "gust_kt").rows()
    winds = [_wind(said, reported) for said, reported in zip(stated, seen, strict=True)]
    return rows.drop("gust_kt", *(name for name in WIND if name in rows.columns)).with_columns(
        pl.Series(name, [wind[name] for wind in winds], dtype=kind) for name, kind in WIND.items()
    )


def _look(text: str | None, landed_at: datetime | None) -> _Reported:
    if text is None:
        return _Reported(None, None, None)
    report = read_report(text)
    if report is None:
        return _Reported(None, UNREADABLE, None)
    at = report.observed_at(landed_at) if landed_at is not None else None
    age = (landed_at - at) if landed_at is not None and at is not None else None
    age_min = round(age.total_seconds() / 60.0) if age is not None else None
    if age is not None and abs(age) > REPORT_WITHIN:
        return _Reported(None, FAR_OFF, age_min)
    return _Reported(report, READ if report.speed_kt is not None else NO_WIND, age_min)


def _wind(stated: tuple[float | None, float | None, float | None], reported: _Reported) -> _Row:
    from_deg, speed, gust = stated
    report = reported.report if reported.found == READ else None
    settled = dict.fromkeys(WIND) | {"report_found": reported.found, "report_age_min": reported.age_min}
    if reported.report is not None:
        settled["report_pressure_hpa"] = reported.report.pressure_hpa
    if speed is not None and (from_deg is not None or speed == 0.0):
        settled |= _components_of(from_deg, speed) | {"wind_source": "stated", "wind_from_u_deg": 0.0}
    elif report is not None and report.speed_kt is not None:
        settled |= _components_of(report.from_deg, report.speed_kt) | {"wind_source": "report"}
        light = report.variable and report.speed_kt <= _LIGHT_KT
        settled |= {"wind_from_u_deg": _direction_u(report), "wind_variable": light}
    return settled | _gust(speed, gust, report)


def _components_of(from_deg: float | None, speed_kt: float) -> _Row:
    return {
        "wind_from_true_deg": from_deg if speed_kt > 0.0 else 0.0,
        "wind_speed_kt": speed_kt,
        "wind_variable": False,
    }


def _direction_u(report: WeatherReport) -> float:
    if report.sector_deg is None:
        return _ROUNDED_DEG
    low, high = report.sector_deg
    return float(((high - low) % 360.0) / 12.0**0.5)


def _gust(speed: float | None, gust: float | None, report: WeatherReport | None) -> _Row:
    """Gust over the mean wind of the same source; a report that gives the wind and no gust says that there was none."""
    if gust is not None and speed is not None:
        return {"gust_spread_kt": gust - speed, "gust_unreported": False}
    if report is None or report.speed_kt is None:
        return {"gust_spread_kt": None, "gust_unreported": False}
    if report.gust_kt is None:
        return {"gust_spread_kt": None, "gust_unreported": True}
    return {"gust_spread_kt": report.gust_kt - report.speed_kt, "gust_unreported": False}
