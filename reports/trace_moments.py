"""One approach's measures and traces in; the moments found in it, in s to first contact, each with its uncertainty, out."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import polars as pl
from numpy.typing import NDArray

from reports.trace_data import Traced

Floats = NDArray[np.float64]
KT_FPS = 1852.0 / 0.3048 / 3600.0
"""Feet a second in a knot."""
GATE_WINDOW_S = 2.0
"""A gate is judged on this long before it."""


@dataclass(frozen=True)
class Moment:
    """`tau_s` from first contact, `low_s` to `high_s` its band: one standard uncertainty either side, or a stretch.

    `group` tells which colour it has: contact, flare, thrust, place or gate. `band` ends its time in words.
    """

    name: str
    group: str
    tau_s: float
    low_s: float
    high_s: float
    band: str


def moments(traced: Traced, gate_heights_ft: tuple[float, ...]) -> list[Moment]:
    """Return the moments of an approach in order of time; those that a log cannot tell are not among them."""
    row = traced.row
    found = [*_gates(traced, gate_heights_ft)]
    if row["contact_t_s"] is not None:
        found += [
            _moment("contact", "contact", 0.0, row["contact_u_s"]),
            *_flare(row),
            *_thrust(row),
            *_places(traced),
            *_later(row),
        ]
    return sorted(found, key=lambda moment: moment.tau_s)


def _moment(name: str, group: str, tau_s: float, u_s: float | None) -> Moment:
    wide = 0.0 if u_s is None else float(u_s)
    words = f" ± {wide:.2f} s" if wide > 0 else " s"
    return Moment(name, group, tau_s, tau_s - wide, tau_s + wide, words)


def _flare(row: dict[str, Any]) -> list[Moment]:
    if row["flare_time_s"] is None:
        return []
    found = [_moment("flare starts", "flare", -row["flare_time_s"], row["flare_time_s_u"])]
    if row["pitch_change_deg"] is not None and row["pitch_rate_dps"]:
        lasts = row["pitch_change_deg"] / row["pitch_rate_dps"]
        u = np.hypot(row["flare_time_s_u"] or 0.0, lasts * (row["pitch_rate_dps_u"] or 0.0) / row["pitch_rate_dps"])
        found.append(_moment("rotation ends", "flare", lasts - row["flare_time_s"], float(u)))
    return found


def _thrust(row: dict[str, Any]) -> list[Moment]:
    idle, closing = row["idle_before_contact_s"], row["thrust_close_time_s"]
    found = []
    if idle is not None:
        found.append(_moment("lever idle", "thrust", -idle, row["idle_before_contact_s_u"]))
    if idle is not None and closing is not None:
        u = np.hypot(row["idle_before_contact_s_u"] or 0.0, row["thrust_close_time_s_u"] or 0.0)
        found.append(_moment("thrust starts to close", "thrust", -idle - closing, float(u)))
    return found


def _places(traced: Traced) -> list[Moment]:
    """50 ft by the course; the threshold where the ground still to cover was the touchdown distance."""
    row, found = traced.row, []
    speed = traced.samples.get("ground_speed_kt", pl.DataFrame(schema={"tau_s": pl.Float64, "value": pl.Float64}))
    height = traced.course.drop_nulls("height_ft")
    at = crosses(height["tau_s"].to_numpy(), height["height_ft"].to_numpy(), 50.0)
    if at is not None:
        u = row["distance_from_50ft_ft_u"]
        found.append(_moment("50 ft", "place", at, u / (_fps(speed, at) or np.inf) if u else None))
    distance = row["touchdown_distance_ft"]
    start = None if distance is None else _time_before(speed, distance)
    if start is not None:
        found.append(
            _moment("threshold", "place", start, row["touchdown_distance_ft_u"] / (_fps(speed, start) or np.inf))
        )
    return found


def _later(row: dict[str, Any]) -> list[Moment]:
    lag = row.get("nose_lag_s")
    return [] if lag is None else [_moment("nose wheel down", "contact", lag, row.get("nose_lag_s_u"))]


def _gates(traced: Traced, heights_ft: tuple[float, ...]) -> list[Moment]:
    """Gates by the height as it was written, each with the stretch it is judged on."""
    samples = traced.samples.get("height_ft")
    if samples is None:
        return []
    before = samples.filter(pl.col("tau_s") < 0.0)
    found = []
    for height in heights_ft:
        at = crosses(before["tau_s"].to_numpy(), before["value"].to_numpy(), height)
        if at is not None:
            found.append(Moment(f"{height:g} ft gate", "gate", at, at - GATE_WINDOW_S, at, " s"))
    return found


def crosses(t: Floats, height: Floats, level: float) -> float | None:
    """When a height last comes down through a level, interpolated; None where it never does."""
    falls = np.flatnonzero((height[:-1] > level) & (height[1:] <= level))
    if not len(falls):
        return None
    i = int(falls[-1])
    part = (height[i] - level) / (height[i] - height[i + 1])
    return float(t[i] + part * (t[i + 1] - t[i]))


def _time_before(speed: pl.DataFrame, distance_ft: float) -> float | None:
    """When the ground still to be covered to the contact was this far, by ground speed; None where the log is short."""
    before = speed.filter(pl.col("tau_s") <= 0.0)
    if before.height < 3 or distance_ft < 0:
        return None
    t = np.append(before["tau_s"].to_numpy(), 0.0)
    fps = np.append(before["value"].to_numpy(), before["value"][-1]) * KT_FPS
    to_go = np.concatenate([np.cumsum((0.5 * (fps[1:] + fps[:-1]) * np.diff(t))[::-1])[::-1], [0.0]])
    return float(np.interp(-distance_ft, -to_go, t)) if to_go[0] >= distance_ft else None


def _fps(speed: pl.DataFrame, tau_s: float) -> float | None:
    if not speed.height:
        return None
    return float(np.interp(tau_s, speed["tau_s"].to_numpy(), speed["value"].to_numpy())) * KT_FPS
