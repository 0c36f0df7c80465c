"""What a recorder keeps of a trace: noise, lags, delays and steps on, a recording out.

Noise and the constants of a single day are drawn from the landing's own number. Position and ground speed carry no lag,
as after a stated one has been taken out, but for what stays unknown of it.
"""

import hashlib
from datetime import UTC, datetime

import numpy as np
from flight_dynamics.airframes import AIRFRAMES
from flight_dynamics.field import HEADING_DEG, shifted
from flight_dynamics.recorders import Recorder
from flight_dynamics.scenario import Scenario
from flight_dynamics.setting import RATE_HZ
from flight_dynamics.traces import Trace, filtered
from flight_dynamics.truth_gates import glideslope_dots, localiser_dots
from numpy.typing import NDArray
from scipy.signal import lfilter

from pipeline.recording import Recording, Samples

Floats = NDArray[np.float64]


class _Keeper:
    """Samples of one landing: columns as the instruments show them, read at each group's slots."""

    def __init__(self, trace: Trace, of: Recorder, rng: np.random.Generator) -> None:
        self.trace, self.of, self.rng = trace, of, rng
        self.channels: dict[str, Samples] = {}

    def keep(
        self, channel: str, group: str, x: Floats, delay_s: float, *, noise: float, step: float, bias: float = 0.0
    ) -> None:
        """Add one channel; `x` (n,) at 240 Hz is read `delay_s` late, with noise and a bias, in steps."""
        if group not in self.of.rates:
            return
        t = np.arange(self.of.slots[group], self.trace.t[-1], 1.0 / self.of.rates[group])
        value = np.interp(t - delay_s, self.trace.t, x) + bias + noise * self.rng.standard_normal(len(t))
        self.channels[channel] = Samples(t, np.round(value / step) * step if step else value)

    def lagged(self, x: Floats, lag_s: float) -> Floats:
        """`x` behind a first-order lag."""
        part = 1.0 - np.exp(-1.0 / (RATE_HZ * max(lag_s, 1e-3)))
        return np.asarray(lfilter([part], [1.0, part - 1.0], x, zi=[x[0] * (1.0 - part)])[0])


def record(trace: Trace, plan: Scenario, of: Recorder) -> Recording:
    """The recording of one landing by one recorder."""
    rng = np.random.default_rng([plan.seed, int(hashlib.sha256(of.name.encode()).hexdigest()[:8], 16)])
    keeper = _Keeper(trace, of, rng)
    _motion(keeper, of)
    _heights(keeper, plan, of)
    _course(keeper, plan, of)
    _systems(keeper, plan, of)
    name = f"{plan.half}-{plan.number:04d}-{of.name}"
    last = float(trace.t[-1])
    return Recording(
        hashlib.sha256(name.encode()).hexdigest(),
        f"{name}.csv",
        "rig",
        keeper.channels,
        datetime(2026, 11, 2, 8, 0, tzinfo=UTC),
        int(last * max(of.rates.values())),
        last,
    )


def _motion(k: _Keeper, of: Recorder) -> None:
    rng, steps = k.rng, of.steps
    normal = filtered(k.trace["normal_g"], of.accel_corner_hz)
    k.keep(
        "normal_accel_g", "accel", normal, of.accel_delay_s, noise=0.006, step=steps["accel"], bias=rng.normal(0, 0.01)
    )
    along = filtered(k.trace["long_g"], 3.0)
    k.keep(
        "longitudinal_accel_g", "attitude", along, of.accel_delay_s, noise=0.005, step=0.004, bias=rng.normal(0, 0.01)
    )
    late, step = of.attitude_delay_s, steps["attitude"]
    k.keep("pitch_deg", "attitude", k.trace["pitch_deg"], late, noise=0.02, step=step, bias=rng.normal(0, 0.15))
    k.keep("roll_deg", "attitude", k.trace["roll_deg"], late, noise=0.03, step=step, bias=rng.normal(0, 0.25))
    k.keep("heading_true_deg", "speed", k.trace["heading_deg"], late, noise=0.05, step=0.1, bias=rng.normal(0, 0.3))


def _heights(k: _Keeper, plan: Scenario, of: Recorder) -> None:
    rng, steps = k.rng, of.steps
    pitch = np.radians(k.trace["pitch_deg"])
    arm = AIRFRAMES[plan.airframe].radio_arm_ft
    above = k.trace["mid_ft"] - _ground(k.trace["x_ft"], plan)
    radio = k.lagged(above + arm * np.sin(pitch) + of.radio_zero_ft, of.radio_lag_s)
    k.keep(
        "radio_height_ft",
        "radio",
        radio,
        of.radio_delay_s,
        noise=of.radio_noise_ft,
        step=steps["radio"],
        bias=rng.normal(0, 0.2),
    )
    climb = k.lagged(60.0 * k.trace["climb_fps"], of.climb_lag_s)
    k.keep(
        "vertical_speed_fpm", "climb", climb, of.climb_delay_s, noise=5.0, step=steps["climb"], bias=rng.normal(0, 4)
    )
    altitude = k.lagged(k.trace["altitude_ft"], 0.2)
    k.keep("pressure_altitude_ft", "place", altitude, 0.1, noise=0.8, step=steps["altitude"], bias=rng.normal(0, 40))


def _ground(x: Floats, plan: Scenario) -> Floats:
    """Height of the ground over the runway's plane, ft: level and uneven before the runway, 0 on it."""
    rng = np.random.default_rng([plan.seed, 5])
    before = np.maximum(_GROUND_FROM_FT - x, 0.0)
    uneven = sum(rng.normal(0.0, 2.0) * np.sin(before / length) for length in (150.0, 400.0, 1100.0))
    return plan.slope_pct / 100.0 * before + uneven * np.minimum(before / 500.0, 1.0)


_GROUND_FROM_FT = -600.0
"""From here on the ground is the runway's plane."""


def _course(k: _Keeper, plan: Scenario, of: Recorder) -> None:
    rng, step = k.rng, of.steps["speed"]
    airspeed = k.lagged(k.trace["airspeed_kt"], of.speed_lag_s)
    k.keep("airspeed_kt", "speed", airspeed, 0.05, noise=0.2, step=step, bias=rng.normal(0, 0.5))
    k.keep(
        "ground_speed_kt",
        "place",
        k.trace["ground_kt"],
        of.place_delay_s,
        noise=0.15,
        step=step,
        bias=rng.normal(0, 0.3),
    )
    k.keep(
        "track_true_deg", "place", k.trace["track_deg"], of.place_delay_s, noise=0.1, step=0.1, bias=rng.normal(0, 0.2)
    )
    crab = np.radians(k.trace["heading_deg"]) - np.radians(HEADING_DEG)
    ahead = AIRFRAMES[plan.airframe].antenna_ahead_ft
    x, y = k.trace["x_ft"] + ahead * np.cos(crab), k.trace["y_ft"] + ahead * np.sin(crab)
    lat, lon = shifted(x + rng.normal(0, 2.0), y + rng.normal(0, 2.0))
    for channel, degrees in (("latitude_deg", lat), ("longitude_deg", lon)):
        k.keep(channel, "place", np.asarray(degrees), of.place_delay_s, noise=1e-6, step=1e-6)
    wind = np.hypot(k.trace["head_kt"], k.trace["cross_kt"])
    off = np.degrees(np.arctan2(k.trace["cross_kt"], k.trace["head_kt"]))
    if of.wind:
        k.keep("wind_speed_kt", "speed", k.lagged(wind, 1.0), 0.2, noise=0.5, step=1.0)
        k.keep("wind_from_true_deg", "speed", k.lagged(off, 1.0) + HEADING_DEG, 0.2, noise=1.0, step=1.0)
    k.keep("localiser_dots", "speed", localiser_dots(k.trace), 0.1, noise=0.01, step=0.01, bias=rng.normal(0, 0.02))
    k.keep("glideslope_dots", "speed", glideslope_dots(k.trace), 0.1, noise=0.02, step=0.01, bias=rng.normal(0, 0.03))


def _systems(k: _Keeper, plan: Scenario, of: Recorder) -> None:
    step = of.steps["lever"]
    lever = k.trace["lever_pct"] if of.signed_lever else np.maximum(k.trace["lever_pct"], 0.0)
    k.keep("thrust_lever_pct", "lever", lever, of.lever_delay_s, noise=0.1, step=step, bias=float(k.rng.normal(0, 0.3)))
    k.keep("engine_speed_pct", "lever", k.trace["engine_pct"], 0.05, noise=0.1, step=0.2)
    k.keep("fuel_flow_kg_h", "speed", k.trace["fuel_kg_h"], 0.2, noise=2.0, step=4.0)
    mains = np.minimum(k.trace["left_ft"], k.trace["right_ft"]) < -of.switch_ft
    nose = k.trace["nose_ft"] < -0.25 * of.switch_ft
    for channel, on in (("main_on_ground", mains), ("nose_on_ground", nose)):
        if "switch" in of.rates:
            t = np.arange(of.slots["switch"], k.trace.t[-1], 1.0 / of.rates["switch"])
            at = np.clip(((t - of.switch_delay_s) * RATE_HZ).astype(int), 0, len(on) - 1)
            k.channels[channel] = Samples(t, on[at].astype(float))
    k.keep("gear_down", "speed", np.ones_like(lever), 0.0, noise=0.0, step=0.0)
    k.keep("flap_deg", "speed", k.trace["flap_deg"], 0.0, noise=0.05, step=0.1)
    k.keep("spoiler_pct", "speed", k.trace["spoiler_pct"], 0.1, noise=0.0, step=1.0)
    k.keep("brake_pct", "speed", k.trace["brake_pct"], 0.1, noise=0.0, step=1.0)
    if not AIRFRAMES[plan.airframe].jet:
        del k.channels["spoiler_pct"]
    k.keep("autopilot_on", "speed", np.zeros_like(lever), 0.0, noise=0.0, step=0.0)
