"""How steadily the approach was flown between 500 and 100 ft, and how low on the path.

Goes in: a window, height above the threshold and the track. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.track import Track, distance_u
from pipeline.measures.window import COARSE, Window

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_A_SECOND = 4
"""Values of the coarse grid that make one second."""
_SECONDS = len(COARSE) // _A_SECOND
_TAU = COARSE[: _SECONDS * _A_SECOND].reshape(_SECONDS, _A_SECOND).mean(axis=1)
_SHORTEST_S = 5
_SLOW_S = 2.1
_NOISE_KEPT = ((0.125, 0.25, 0.5, 1.0), (0.20, 0.23, 0.43, 0.53))
"""Sample interval, s, and the share of a sample's noise variance left in the mean of a second, by interpolation."""
_NOISE_DOUBT = 0.4
"""How far that variance may be from the one in the few seconds at hand (our own choice)."""


def approach_spread(w: Window, track: Track, *, gate_height: Floats) -> dict[str, Answer]:
    """Standard deviations of pitch, thrust, airspeed and vertical speed, lowest glideslope and path.

    All on means of one second between 500 and 100 ft. Null `no_channel` without the channel, `no_reference` without the
    runway's aim point, `too_slow` below one sample in 2 s, `not_reached` where the log does not show 5 s of that
    stretch. The path is seen from the aim point by integrated ground speed, so that it follows how the aircraft went.
    """
    height = seconds(gate_height)
    low = (height >= 100.0) & (height <= 500.0) & (_TAU < 0.0)
    short = ((low.sum(axis=1) < _SHORTEST_S, "not_reached"),)
    return {
        "approach_pitch_sd_deg": _spread(w, "pitch_deg", low, short),
        "approach_thrust_sd_pct": _spread(w, "thrust_lever_pct", low, short),
        "approach_airspeed_sd_kt": _spread(w, "airspeed_kt", low, short),
        "approach_vertical_speed_sd_fpm": _spread(w, "vertical_speed_fpm", low, short),
        "lowest_glideslope_dots": _lowest_dots(w, low, short),
        "lowest_path_deg": _lowest_path(w, track, height, low, short),
    }


def seconds(x: Floats) -> Floats:
    """Means of each whole second of the coarse grid, (n, s); NaN where a value is missing."""
    return x[:, : _SECONDS * _A_SECOND].reshape(len(x), _SECONDS, _A_SECOND).mean(axis=2)


def _spread(w: Window, channel: str, low: Bools, short: tuple[tuple[Bools, str], ...]) -> Answer:
    """Spread of the true course: the seconds' variance less what the recorder's noise leaves in them.

    Uncertain by that noise and by what the ends of the stretch and a slow recorder leave out (our own choice: 8 %, and
    18 % at one sample a second).
    """
    seen = np.where(low, seconds(w.coarse(channel)), np.nan)
    interval = np.minimum(w.interval_s(channel), 2.0)
    number = np.maximum(rows.count(seen), 1.0)
    noise = w.noise(channel) ** 2 * np.interp(interval, *_NOISE_KEPT)
    spread = rows.deviation(seen)
    value = np.sqrt(np.maximum(spread**2 - noise, 0.0))
    share = _NOISE_DOUBT * noise / np.maximum(2.0 * value, 0.7 * np.sqrt(noise) + 1e-9)
    u = np.sqrt(noise / number + share**2 + ((0.08 + 0.1 * interval) * value) ** 2)
    slow = (w.slower_than(channel, _SLOW_S), "too_slow")
    return answer(value, u, missing=(*w.without(channel), *short, slow))


def _lowest_dots(w: Window, low: Bools, short: tuple[tuple[Bools, str], ...]) -> Answer:
    channel = "glideslope_dots"
    value = rows.smallest(np.where(low, seconds(w.coarse(channel)), np.nan))
    u = np.hypot(BIAS[channel], w.noise(channel) * np.sqrt(np.minimum(w.interval_s(channel), 1.0)))
    return answer(value, u, missing=(*w.without(channel), *short))


def _lowest_path(w: Window, track: Track, height: Floats, low: Bools, short: tuple[tuple[Bools, str], ...]) -> Answer:
    aim = w.reference.aim_point_ft
    ahead = aim[:, None] - seconds(track.x_ft)
    with np.errstate(invalid="ignore", divide="ignore"):
        angle = np.where(low & (ahead > 100.0), np.degrees(np.arctan(height / ahead)), np.nan)
    least = np.where(np.isfinite(angle), angle, np.inf).argmin(axis=1)
    row = np.arange(w.n)
    far, high = ahead[row, least], height[row, least]
    place_u = np.hypot(track.x_u_ft, distance_u(_TAU[least]))
    with np.errstate(invalid="ignore", divide="ignore"):
        u = np.degrees(np.hypot(BIAS["geometric_altitude_ft"] / far, high * place_u / far**2))
    missing = (
        *w.lacking(~rows.has(track.to_contact_ft) | w.lacks("latitude_deg"), "latitude_deg", "ground_speed_kt"),
        (~np.isfinite(w.reference.threshold_lat) | ~np.isfinite(aim), "no_reference"),
        *short,
    )
    return answer(angle[row, least], u, missing=missing)
