"""Contact: how firmly, at what attitude and speed, and what came after the first touch.

Goes in: a window, wheel heights, the touches found. Comes out: the answers by measure name.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.track import Track, distance_u
from pipeline.measures.window import COARSE, FINE, KT_FPS, Window, between, slope, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_QUICK_SWITCH_S = 0.26
_NONE_SEEN, _NONE_WITHOUT_SWITCH, _SEEN, _SEEN_SLOWLY = 0.99, 0.94, 0.95, 0.8
"""How sure a count of bounces is: none, with and without a switch, and some, by a quick switch or by less. From what
was found and missed on landings flown by a flight-dynamics library."""
_FLOAT_FT = 10.0
_GRID_S = 1.0 / 16.0


def contact(
    w: Window, path: ContactPath, track: Track, touches: Sequence[tuple[float, ...] | None]
) -> dict[str, Answer]:
    """Vertical speed, attitude and speed at contact, float, distance from 50 ft, bounces.

    Null `not_reached` without a contact, `untimed` where no channel times it, `no_channel` without the channel.
    """
    untimed = w.no_contact
    slow_path = (*untimed, *_path_missing(w))
    speed = path.speed_fps * 60.0
    return {
        "vertical_speed_at_contact_fpm": answer(speed, path.speed_u_fps * 60.0, missing=slow_path),
        **_attitude(w, untimed),
        **_speeds(w, untimed),
        **_below(w, path, track, untimed),
        "bounces": _bounces(w, touches, untimed),
    }


def _path_missing(w: Window) -> tuple[tuple[Bools, str], ...]:
    neither = w.lacks("radio_height_ft") & w.lacks("vertical_speed_fpm")
    slow = (w.interval_s("radio_height_ft") >= 2.1) & (w.interval_s("vertical_speed_fpm") >= 1.1)
    return (*w.lacking(neither, "radio_height_ft", "vertical_speed_fpm"), (slow & ~neither, "too_slow"))


def _attitude(w: Window, untimed: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    found = {}
    for name, channel in (("pitch_at_contact_deg", "pitch_deg"), ("roll_at_contact_deg", "roll_deg")):
        value = rows.mean(w.fine(channel)[:, between(FINE, -0.25, 0.0)])
        turning = np.abs(np.nan_to_num(rows.mean(slope(w.fine(channel), _GRID_S)[:, between(FINE, -0.5, 0.0)])))
        late = turning * np.hypot(w.contact_u_s, 0.3 * np.minimum(w.interval_s(channel), 2.0))
        u = np.sqrt(BIAS[channel] ** 2 + w.noise(channel) ** 2 + late**2)
        found[name] = answer(value, u, missing=(*untimed, *w.without(channel)))
    return found


def _speeds(w: Window, untimed: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    airspeed = rows.mean(w.fine("airspeed_kt")[:, between(FINE, -1.0, 0.0)])
    missing = (*untimed, *w.without("airspeed_kt"))
    u = np.hypot(BIAS["airspeed_kt"], w.noise("airspeed_kt") / 2.0)
    vref = w.reference.vref_kt
    return {
        "contact_airspeed_kt": answer(airspeed, u, missing=missing),
        "contact_speed_over_vref_kt": answer(
            airspeed - vref, u, missing=(*missing, (~np.isfinite(vref), "no_reference"))
        ),
    }


def _below(w: Window, path: ContactPath, track: Track, untimed: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    """Time and ground below 10 ft, and ground from 50 ft, to first contact."""
    radio = (*untimed, *w.without("radio_height_ft"), (w.slower_than("radio_height_ft", 1.05), "too_slow"))
    ground = (*radio, *w.lacking(~rows.has(track.to_contact_ft), "ground_speed_kt", "latitude_deg"))
    calm = smooth(path.height_fine, 0.3, _GRID_S)
    ten, ten_u = _crossing(w, path, calm, _FLOAT_FT)
    fifty, fifty_u = _crossing(w, path, calm, 50.0)
    fps = np.nan_to_num(rows.at(w.coarse("ground_speed_kt"), COARSE, np.nan_to_num(ten)), nan=120.0) * KT_FPS

    def run(when: Floats, u: Floats) -> tuple[Floats, Floats]:
        return -rows.at(track.to_contact_ft, COARSE, when), np.hypot(fps * u, distance_u(when))

    float_run, from_50 = run(ten, ten_u), run(fifty, fifty_u)
    return {
        "float_time_s": answer(-ten, ten_u, missing=(*radio, (~np.isfinite(ten), "not_reached"))),
        "float_distance_ft": answer(*float_run, missing=(*ground, (~np.isfinite(ten), "not_reached"))),
        "distance_from_50ft_ft": answer(*from_50, missing=(*ground, (~np.isfinite(fifty), "not_reached"))),
    }


def _crossing(w: Window, path: ContactPath, height: Floats, level_ft: float) -> tuple[Floats, Floats]:
    """Last time the wheels come down through `level_ft`, s to contact, and its uncertainty with the contact's."""
    grid = FINE if height.shape[1] == len(FINE) else COARSE
    when = rows.last_down_crossing(height, grid, level_ft, before=np.zeros(w.n))
    step = grid[1] - grid[0]
    sink = np.abs(rows.at(slope(smooth(height, 1.0, step), step), grid, when))
    error = np.hypot(path.height_u_ft, w.noise("radio_height_ft") / np.sqrt(2.0))
    return when, np.sqrt((error / np.maximum(np.nan_to_num(sink, nan=5.0), 1.0)) ** 2 + w.contact_u_s**2 + 0.05**2)


def _bounces(w: Window, touches: Sequence[tuple[float, ...] | None], untimed: tuple[tuple[Bools, str], ...]) -> Answer:
    number = np.array([np.nan if found is None else len(found) - 1.0 for found in touches])
    interval = w.interval_s("main_on_ground")
    none = np.where(np.isfinite(interval), _NONE_SEEN, _NONE_WITHOUT_SWITCH)
    some = np.where(interval <= _QUICK_SWITCH_S, _SEEN, _SEEN_SLOWLY)
    sure = np.where(number > 0.0, some, none)
    return answer(number, sure, missing=(*untimed, (~np.isfinite(number), "too_slow")))
