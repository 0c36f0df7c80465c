"""The contact fit on landings whose gear, lags and instant are known, flown through contact by an integrator."""

from dataclasses import dataclass

import numpy as np
import polars as pl
import pytest
from scipy.integrate import solve_ivp
from scipy.signal import butter, sosfilt

from pipeline.measuring import measure_batch
from pipeline.policy import Policy
from pipeline.recording import Recording, Samples

G = 32.174


@dataclass(frozen=True)
class Touch:
    """A straight descent, a flare that ends at `sink_fps`, and a gear of its own, not of the fit's grid."""

    sink_fps: float = 3.4
    contact_s: float = 60.31
    frequency: float = 5.4
    damping: float = 0.33
    flare: float = 1.5
    zero_ft: float = -1.4
    radio_delay_s: float = 0.08
    vs_lag_s: float = 0.35
    accel_bias: float = 0.01
    accel_pass_hz: float = 5.0
    accel_delay_s: float = 0.02

    def truth(self) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
        """Times to contact, height, vertical speed and acceleration on a fine grid."""
        tau = np.arange(-60.0, 30.0, 1.0 / 256.0)
        length = max((11.0 - self.sink_fps) / self.flare, 0.5)
        flared = np.maximum(tau + length, 0.0)
        speed = np.where(tau < -length, -11.0, -11.0 + self.flare * flared)
        height = -self.sink_fps * tau + 0.5 * self.flare * tau**2
        height = np.where(tau < -length, height[np.searchsorted(tau, -length)] - 11.0 * (tau + length), height)
        accel = np.where((tau >= -length) & (tau < 0.0), self.flare, 0.0)
        after = tau >= 0.0
        gear = solve_ivp(self._gear, (0.0, 30.0), [0.0, -self.sink_fps], t_eval=tau[after], rtol=1e-8, max_step=0.01)
        height[after], speed[after] = gear.y
        accel[after] = [self._gear(t, y)[1] for t, y in zip(gear.t, gear.y.T, strict=True)]
        return tau, height, speed, accel

    def _gear(self, t: float, y: np.ndarray) -> list[float]:
        push = max(-(self.frequency**2) * y[0] - 2.0 * self.damping * self.frequency * y[1], 0.0) if y[0] < 0 else 0.0
        lift_lost = -G * min(t / 3.0, 1.0)
        return [y[1], push + (self.flare if t < 0.3 else 0.0) + 0.5 * lift_lost]

    def recording(self, rate_hz: float, *, seed: int, without: tuple[str, ...] = ()) -> Recording:
        """The landing as a recorder at `rate_hz` writes it: low-pass, lags, noise, rounding."""
        draw = np.random.default_rng(seed)
        tau, height, speed, accel = self.truth()
        accel = sosfilt(butter(2, self.accel_pass_hz, fs=256.0, output="sos"), accel)
        lagged = np.zeros(len(tau))
        lagged[0] = speed[0]
        for i in range(1, len(tau)):
            lagged[i] = lagged[i - 1] + (speed[i] - lagged[i - 1]) / self.vs_lag_s / 256.0
        t = np.arange(0.02, 88.0, 1.0 / rate_hz)
        at = t - self.contact_s
        values = {
            "radio_height_ft": np.round(
                2.0 * (np.interp(at - self.radio_delay_s, tau, height) + self.zero_ft + draw.normal(0.0, 0.3, len(t)))
            )
            / 2.0,
            "vertical_speed_fpm": np.interp(at, tau, lagged) * 60.0 + draw.normal(0.0, 10.0, len(t)),
            "normal_accel_g": 1.0
            + self.accel_bias
            + np.interp(at - self.accel_delay_s, tau, accel) / G
            + draw.normal(0.0, 0.008, len(t)),
            "pitch_deg": np.full(len(t), 4.0),
            "ground_speed_kt": np.clip(130.0 - 4.0 * np.maximum(at, 0.0), 20.0, None),
        }
        channels = {name: Samples(t, value) for name, value in values.items() if name not in without}
        return Recording(f"{seed:064x}", f"{seed}.csv", "m", channels, None, len(t), float(t[-1]))


@pytest.fixture
def measured(runways):
    nothing = pl.DataFrame(schema={"log_sha256": pl.String, "landing_index": pl.Int64})

    def all_of(recordings: list[Recording]) -> pl.DataFrame:
        return measure_batch(recordings, nothing, runways=runways, policy=Policy()).landings

    return all_of


@pytest.mark.parametrize("rate_hz", [16.0, 8.0, 4.0])
@pytest.mark.parametrize("sink_fps", [1.2, 3.4, 8.0])
def test_contact_is_found_within_its_uncertainty(measured, rate_hz, sink_fps):
    """Eight recordings of one landing: nine in ten within two uncertainties, time to .1 s and speed to 60 ft/min."""
    touch = Touch(sink_fps=sink_fps)

    found = measured([touch.recording(rate_hz, seed=seed) for seed in range(8)])

    time = found["contact_t_s"].to_numpy() - touch.contact_s
    speed = found["vertical_speed_at_contact_fpm"].to_numpy() + 60.0 * sink_fps
    assert np.abs(time).max() < 0.12
    assert (np.abs(time) < 2.0 * found["contact_u_s"].to_numpy()).sum() >= 7
    assert np.abs(speed).max() < 60.0
    assert (np.abs(speed) < 2.0 * found["vertical_speed_at_contact_fpm_u"].to_numpy()).sum() >= 7


def test_a_landing_alone_and_in_a_batch_agree(measured):
    touches = [Touch(sink_fps=s).recording(8.0, seed=n) for n, s in enumerate((1.0, 2.5, 4.0, 6.0))]

    together = measured(touches)
    alone = pl.concat([measured([touch]) for touch in touches])

    for name in ("contact_t_s", "vertical_speed_at_contact_fpm", "peak_g"):
        assert np.allclose(together[name].to_numpy(), alone[name].to_numpy(), rtol=0.0, atol=1e-4)


def test_without_acceleration_the_answer_is_less_sure_and_says_so(measured):
    touch = Touch()
    found = measured(
        [
            touch.recording(8.0, seed=1),
            touch.recording(8.0, seed=2, without=("normal_accel_g",)),
        ]
    )

    with_accel, without = found["vertical_speed_at_contact_fpm_u"]
    assert without > 1.5 * with_accel
    assert found["vertical_speed_at_contact_fpm"][1] + 204.0 == pytest.approx(0.0, abs=3.0 * without)
    assert found["peak_g_reason"].to_list() == [None, "no_channel"]


def test_a_soft_touch_is_closing_and_never_nothing(measured):
    found = measured([Touch(sink_fps=0.4).recording(8.0, seed=seed) for seed in range(8)])

    speed = found["vertical_speed_at_contact_fpm"].to_numpy()
    assert (speed < 0.0).all()
    assert (np.abs(speed + 24.0) < 2.5 * found["vertical_speed_at_contact_fpm_u"].to_numpy()).sum() >= 7


def test_peak_is_what_a_low_pass_of_the_true_signal_shows(measured):
    """Second-order Butterworth low-pass at 5 Hz of the integrator's acceleration."""
    touch = Touch(sink_fps=5.0)
    tau, _, _, accel = touch.truth()
    slow = sosfilt(butter(2, 5.0, fs=256.0, output="sos"), 1.0 + accel / G - 1.0)
    expected = 1.0 + slow[(tau > 0.0) & (tau < 1.0)].max()

    found = measured([touch.recording(8.0, seed=seed) for seed in range(8)])

    error = found["peak_g"].to_numpy() - expected
    assert np.median(np.abs(error)) < 0.04
    assert (np.abs(error) < 2.0 * found["peak_g_u"].to_numpy()).sum() >= 7


def test_a_long_radio_trace_beside_shorter_ones_is_not_counted_twice(measured):
    """Landings whose windows hold different numbers of samples agree with each measured alone."""
    touches = [Touch(contact_s=60.0 + 0.07 * n).recording(rate, seed=n) for n, rate in enumerate((4.0, 8.0, 8.0, 16.0))]

    together, alone = measured(touches), pl.concat([measured([touch]) for touch in touches])

    assert np.allclose(together["contact_t_s"].to_numpy(), alone["contact_t_s"].to_numpy(), rtol=0.0, atol=1e-7)
