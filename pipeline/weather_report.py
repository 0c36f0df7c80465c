"""A routine aviation weather report in, its wind, pressure and time out.

The report's code form is that of WMO Manual on Codes, volume I.1, FM 15 and FM 16; its wind direction is true.
"""

import re
import warnings
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache

from metar.Datatypes import speed as Speed  # noqa: N812 - a class in the parser's own spelling
from metar.Metar import Metar

_UNITS = ("KT", "KTS", "MPS", "KMH")
_WIND = re.compile(r"(?:\d{3}|VRB|///)(?:\d{2,3}|//)(?:G(?:\d{2,3}|//))?(?:KTS?|MPS|KMH)")
"""A whole wind group. The parser itself would guess a unit that is not there, and pass over a group that is cut."""
_TREND = re.compile(r"\s(?:NOSIG|BECMG|TEMPO|RMKS?|FM\d{4,6})\b.*", re.DOTALL)
"""What is forecast, or remarked, and not observed."""


@dataclass(frozen=True)
class WeatherReport:
    """What one report says; None where it does not say it.

    `from_deg` is null for a wind that is calm or variable; `sector_deg` are the bounds between which it varied.
    `gust_kt` is null where no gust was reported. `at` is day of the month, hour and minute, UTC.
    """

    from_deg: float | None
    speed_kt: float | None
    gust_kt: float | None
    variable: bool
    sector_deg: tuple[float, float] | None
    pressure_hpa: float | None
    at: tuple[int, int, int] | None

    def observed_at(self, near: datetime) -> datetime | None:
        """The instant of the report nearest to `near`, by its day of the month; None where it has no time."""
        if self.at is None:
            return None
        offered = [_instant(near + timedelta(days=shift), self.at) for shift in range(-31, 32)]
        instants = [at for at in offered if at is not None]
        return min(instants, key=lambda at: abs(at - near), default=None)


@lru_cache(maxsize=4096)
def read_report(text: str) -> WeatherReport | None:
    """Read one report; None where it cannot be read: no report, or a wind group that is not whole.

    A wind written as not available (`/////KT`) or absent gives None for the wind, not an unreadable report.

    >>> found = read_report("METAR XXAA 121250Z 24015G27KT 9999 SCT030 12/07 Q1009")
    >>> found.from_deg, found.speed_kt, found.gust_kt, found.at
    (240.0, 15.0, 27.0, (12, 12, 50))
    """
    observed = _TREND.sub("", " ".join(text.upper().replace("=", " ").split()))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)  # the parser warns of each group it cannot read
        parsed = Metar(observed, month=1, year=2000, strict=False)  # a month of 31 days: no clock is asked
    if parsed.time is None or parsed.station_id is None:
        return None
    groups = [group for group in observed.split() if group.endswith(_UNITS)]
    if not _readable(groups, parsed):
        return None
    speed, gust = parsed.wind_speed, parsed.wind_gust
    calm = speed is not None and speed.value("KT") == 0.0
    return WeatherReport(
        from_deg=None if parsed.wind_dir is None or calm else float(parsed.wind_dir.value()),
        speed_kt=None if speed is None else float(speed.value("KT")),
        gust_kt=_gust(speed, gust),
        variable=speed is not None and groups[0].startswith("VRB"),
        sector_deg=_sector(parsed),
        pressure_hpa=None if parsed.press is None else float(parsed.press.value("HPA")),
        at=(parsed.time.day, parsed.time.hour, parsed.time.minute),
    )


def _gust(mean: Speed | None, gust: Speed | None) -> float | None:
    """Gust in kt; None without one, and where it is below the mean, which no gust is."""
    if gust is None or (mean is not None and gust.value("KT") < mean.value("KT")):
        return None
    return float(gust.value("KT"))


def _readable(groups: list[str], parsed: Metar) -> bool:
    """Whether the one wind group is whole and was read as it stands, or there is none and none was made up."""
    if not groups:
        return parsed.wind_speed is None
    one = len(groups) == 1 and _WIND.fullmatch(groups[0]) is not None
    return one and (parsed.wind_speed is not None or "//" in groups[0])


def _sector(parsed: Metar) -> tuple[float, float] | None:
    if parsed.wind_dir_from is None or parsed.wind_dir_to is None:
        return None
    return float(parsed.wind_dir_from.value()), float(parsed.wind_dir_to.value())


def _instant(day: datetime, at: tuple[int, int, int]) -> datetime | None:
    """The instant `at` on the day of `day`, where that is its day of the month."""
    if day.day != at[0]:
        return None
    return datetime(day.year, day.month, day.day, at[1], at[2], tzinfo=UTC)
