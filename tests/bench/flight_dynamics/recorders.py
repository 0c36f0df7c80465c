"""The rig's recorders: an airframe, a band of rates and a number in, the constants of one recorder out.

Each airframe has nine recorders, three in each band, whose constants are drawn once from their name: rates that differ
from channel to channel, slots, transport delays, filter lags, radio offset, steps.
"""

from dataclasses import dataclass

import numpy as np
from flight_dynamics.scenario import RIG_VERSION

BANDS = ("8 Hz and more", "4 Hz", "1-2 Hz")
_RATES: dict[tuple[str, int], dict[str, float]] = {
    ("8 Hz and more", 0): {
        "accel": 16,
        "attitude": 8,
        "radio": 8,
        "climb": 8,
        "switch": 4,
        "speed": 4,
        "lever": 4,
        "place": 4,
    },
    ("8 Hz and more", 1): {
        "accel": 8,
        "attitude": 8,
        "radio": 4,
        "climb": 8,
        "switch": 2,
        "speed": 2,
        "lever": 4,
        "place": 2,
    },
    ("8 Hz and more", 2): {"accel": 16, "attitude": 16, "radio": 8, "climb": 8, "speed": 4, "lever": 2, "place": 4},
    ("4 Hz", 0): {"accel": 8, "attitude": 4, "radio": 4, "climb": 4, "switch": 2, "speed": 2, "lever": 2, "place": 1},
    ("4 Hz", 1): {"accel": 8, "attitude": 4, "radio": 2, "climb": 4, "switch": 4, "speed": 1, "lever": 4, "place": 2},
    ("4 Hz", 2): {"accel": 4, "attitude": 4, "radio": 4, "climb": 4, "speed": 2, "lever": 4, "place": 1},
    ("1-2 Hz", 0): {"accel": 4, "attitude": 2, "radio": 2, "climb": 2, "switch": 1, "speed": 1, "lever": 1, "place": 1},
    ("1-2 Hz", 1): {"accel": 2, "attitude": 1, "radio": 1, "climb": 1, "switch": 1, "speed": 1, "lever": 1, "place": 1},
    ("1-2 Hz", 2): {"accel": 2, "attitude": 2, "radio": 2, "climb": 2, "speed": 1, "lever": 2, "place": 1},
}
"""Samples a second of each group of channels; recorder 2 of a band has no air/ground switch."""


@dataclass(frozen=True)
class Recorder:
    """Constants of one recorder: delays and lags s, corner Hz, offsets in channel units."""

    name: str
    band: str
    rates: dict[str, float]
    slots: dict[str, float]
    accel_corner_hz: float
    accel_delay_s: float
    attitude_delay_s: float
    climb_lag_s: float
    climb_delay_s: float
    radio_lag_s: float
    radio_delay_s: float
    radio_zero_ft: float
    radio_noise_ft: float
    speed_lag_s: float
    lever_delay_s: float
    switch_delay_s: float
    switch_ft: float
    place_delay_s: float
    steps: dict[str, float]
    signed_lever: bool
    wind: bool


def recorder(letter: str, band: str, number: int) -> Recorder:
    """The recorder `number` (0 to 2) of a band on an airframe, always the same."""
    rng = np.random.default_rng([RIG_VERSION, ord(letter), BANDS.index(band), number, 77])
    rates = _RATES[band, number]
    return Recorder(
        name=f"{letter}-{BANDS.index(band)}{number}",
        band=band,
        rates=rates,
        slots={group: float(rng.uniform(0.0, 1.0 / rate)) for group, rate in rates.items()},
        accel_corner_hz=float(rng.uniform(3.8, 6.5)),
        accel_delay_s=float(rng.uniform(0.0, 0.04)),
        attitude_delay_s=float(rng.uniform(0.02, 0.12)),
        climb_lag_s=float(rng.uniform(0.1, 0.6)),
        climb_delay_s=float(rng.uniform(0.02, 0.1)),
        radio_lag_s=float(rng.uniform(0.0, 0.12)),
        radio_delay_s=float(rng.uniform(0.02, 0.18)),
        radio_zero_ft=float(rng.normal(-1.0, 1.2)),
        radio_noise_ft=float(rng.uniform(0.1, 0.4)),
        speed_lag_s=float(rng.uniform(0.2, 0.6)),
        lever_delay_s=float(rng.uniform(0.02, 0.15)),
        switch_delay_s=float(rng.uniform(0.03, 0.25)),
        switch_ft=float(rng.uniform(0.03, 0.1)) * (1.0 if letter != "C" else 0.5),
        place_delay_s=float(rng.normal(0.0, 0.03)),
        steps={
            "accel": float(rng.choice([0.002, 0.004, 0.01])),
            "attitude": float(rng.choice([0.02, 0.09, 0.176])),
            "radio": float(rng.choice([0.125, 0.25, 0.5, 1.0])),
            "climb": float(rng.choice([1.0, 8.0, 16.0, 32.0])),
            "speed": float(rng.choice([0.125, 0.25, 0.5])),
            "lever": float(rng.choice([0.2, 0.5, 1.0])),
            "altitude": float(rng.choice([1.0, 4.0])),
        },
        signed_lever=bool(rng.random() < 0.5),
        wind=bool(rng.random() < 0.7),
    )
