"""A landing in closed form: straight three-degree path, exponential flare, known contact, known everything."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime

import numpy as np
import polars as pl
import pytest

from pipeline.recording import Recording, Samples

KT_FPS = 1.687810
G = 32.174049


@dataclass(frozen=True)
class Ideal:
    """140 kt, 3 deg, flare h' = -(h + hb)/tau with tau 3.3 s and hb 12 ft: start 28.87 ft, 4.044 s, 218 ft/min.

    The manual-landing law is quoted second-hand from the Royal Aircraft Establishment's blind landing unit; the numbers
    follow from the closed form h(t) = (h0 + hb) exp(-t / tau) - hb.
    """

    speed_kt: float = 140.0
    path_deg: float = 3.0
    tau_s: float = 3.3
    hb_ft: float = 12.0
    contact_s: float = 150.3
    pitch_deg: float = 2.5
    rise_deg: float = 3.0
    rise_s: float = 2.5
    close_lag_s: float = 1.0
    close_s: float = 2.0
    radio_zero_ft: float = -2.0
    touchdown_ft: float = 1358.8
    pulse_g: float = 0.592
    rate_hz: float = 8.0
    without: tuple[str, ...] = ()
    extra: dict[str, np.ndarray] = field(default_factory=dict)

    @property
    def speed_fps(self) -> float:
        """Speed along the path, ft/s."""
        return self.speed_kt * KT_FPS

    @property
    def sink_fps(self) -> float:
        """Sink on the straight path, ft/s."""
        return self.speed_fps * np.tan(np.radians(self.path_deg))

    @property
    def flare_height_ft(self) -> float:
        """Height where the straight path meets the flare law."""
        return self.tau_s * self.sink_fps - self.hb_ft

    @property
    def flare_s(self) -> float:
        """Time from there to contact."""
        return self.tau_s * np.log((self.flare_height_ft + self.hb_ft) / self.hb_ft)

    def height(self, tau: np.ndarray) -> np.ndarray:
        """Main-wheel height, ft, at each time to contact."""
        flared = (self.flare_height_ft + self.hb_ft) * np.exp(-(tau + self.flare_s) / self.tau_s) - self.hb_ft
        straight = self.flare_height_ft - self.sink_fps * (tau + self.flare_s)
        return np.where(tau >= 0.0, 0.0, np.where(tau >= -self.flare_s, flared, straight))

    def climb(self, tau: np.ndarray) -> np.ndarray:
        """Vertical speed, ft/s, positive up."""
        flared = -(self.height(tau) + self.hb_ft) / self.tau_s
        return np.where(tau >= 0.0, 0.0, np.where(tau >= -self.flare_s, flared, -self.sink_fps))

    def accel(self, tau: np.ndarray) -> np.ndarray:
        """Normal acceleration, g, with a half-sine of 0.3 s after contact that takes away the vertical speed."""
        bend = np.where((tau >= -self.flare_s) & (tau < 0.0), (self.height(tau) + self.hb_ft) / self.tau_s**2, 0.0)
        pulse = self.pulse_g * np.sin(np.pi * np.clip(tau / 0.3, 0.0, 1.0))
        return 1.0 + bend / G + pulse

    def pitch(self, tau: np.ndarray) -> np.ndarray:
        """Line, then a cosine rotation that begins so that it stands 0.3 deg above the line where the path bends."""
        lead = self.rise_s * np.arccos(1.0 - 0.6 / self.rise_deg) / np.pi
        x = np.clip((tau + self.flare_s + lead) / self.rise_s, 0.0, 1.0)
        down = np.clip((tau - 1.5) / 4.0, 0.0, 1.0) * (self.pitch_deg + self.rise_deg)
        return self.pitch_deg + self.rise_deg * 0.5 * (1.0 - np.cos(np.pi * x)) - down

    def lever(self, tau: np.ndarray) -> np.ndarray:
        """Thrust lever, percent."""
        start = -self.flare_s + self.close_lag_s
        return 40.0 * (1.0 - np.clip((tau - start) / self.close_s, 0.0, 1.0))

    def ground_speed(self, tau: np.ndarray) -> np.ndarray:
        """Ground speed, kt."""
        return np.where(tau < 0.0, self.speed_kt, np.maximum(self.speed_kt - 5.0 * tau, 20.0))

    def along(self, tau: np.ndarray) -> np.ndarray:
        """Place along the runway, ft from the threshold."""
        rolled = np.clip(tau, 0.0, 24.0)
        return self.touchdown_ft + np.where(
            tau < 0.0, self.speed_fps * tau, KT_FPS * (self.speed_kt * rolled - 2.5 * rolled**2)
        )

    def recording(self, log_sha256: str = "a" * 64) -> Recording:
        """The landing as a recording."""
        t = np.arange(0.0, self.contact_s + 40.0, 1.0 / self.rate_hz)
        tau = t - self.contact_s
        lat, lon = place(self.along(tau))
        values = {
            "radio_height_ft": self.height(tau) + self.radio_zero_ft,
            "geometric_altitude_ft": np.round((self.height(tau) + 300.0) / 5.0) * 5.0,
            "vertical_speed_fpm": self.climb(tau) * 60.0,
            "normal_accel_g": self.accel(tau),
            "pitch_deg": self.pitch(tau),
            "roll_deg": np.zeros(len(t)),
            "thrust_lever_pct": self.lever(tau),
            "airspeed_kt": self.ground_speed(tau),
            "ground_speed_kt": self.ground_speed(tau),
            "main_on_ground": (tau > 0.1).astype(float),
            "latitude_deg": lat,
            "longitude_deg": lon,
            "track_true_deg": np.full(len(t), 90.0),
            "gear_down": np.ones(len(t)),
            "flap_deg": np.full(len(t), 30.0),
            "localiser_dots": np.zeros(len(t)),
            "glideslope_dots": np.full(len(t), 0.2),
            "autopilot_on": np.zeros(len(t)),
        } | self.extra
        channels = {name: Samples(t, v) for name, v in values.items() if name not in self.without}
        return Recording(log_sha256, "ideal.csv", "m", channels, datetime(2026, 11, 20, 10, tzinfo=UTC), len(t), t[-1])


def place(along_ft: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Positions due east of the threshold at (0, 30) on the equator, where a degree of longitude is 2 pi a / 360."""
    return np.zeros(len(along_ft)), 30.0 + along_ft * 0.3048 / (2.0 * np.pi * 6378137.0 / 360.0)


@pytest.fixture
def ideal() -> Callable[..., Ideal]:
    return Ideal


@pytest.fixture
def runways() -> pl.DataFrame:
    return pl.DataFrame(
        {
            "runway": ["Testfield 09"],
            "threshold_lat": [0.0],
            "threshold_lon": [30.0],
            "true_heading_deg": [90.0],
            "length_ft": [8000.0],
            "width_ft": [150.0],
            "elevation_ft": [0.0],
            "displaced_threshold_ft": [0.0],
            "slope_pct": [0.0],
            "aim_point_ft": [1000.0],
            "glidepath_deg": [3.0],
            "threshold_crossing_height_ft": [50.0],
            "localiser_antenna_ft": [9000.0],
        }
    )


@pytest.fixture
def context() -> pl.DataFrame:
    return pl.DataFrame(
        {
            "log_sha256": ["a" * 64],
            "landing_index": pl.Series([None], dtype=pl.Int64),
            "pilot": ["P-AAAAA"],
            "aircraft_type": ["tern"],
            "vref_kt": [132.0],
            "target_speed_kt": [137.0],
        }
    )
