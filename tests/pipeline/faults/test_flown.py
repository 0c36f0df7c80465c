"""What faults alone ask for is found on landings in closed form."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest

from pipeline.measuring import measure_batch
from pipeline.policy import AircraftType, Policy

Faults = Callable[..., dict[str, dict[str, object]]]
CONTACT_S, RATE_HZ = 150.3, 8.0
TAU = np.arange(0.0, CONTACT_S + 40.0, 1.0 / RATE_HZ) - CONTACT_S
SPEED_KT = 140.0


@pytest.fixture
def faults(ideal, context, runways) -> Faults:
    """Fault rows of one ideal landing by the fault's name."""

    def found(*, vref_kt: float = 135.0, **changes: object) -> dict[str, dict[str, object]]:
        policy = Policy(types={"Sarnel J4": AircraftType(profile="jet")})
        told = context.with_columns(
            pl.lit("Sarnel J4").alias("aircraft_type"), pl.lit(vref_kt, pl.Float64).alias("vref_kt")
        )
        recording = ideal(rate_hz=RATE_HZ, **changes).recording()
        measured = measure_batch([recording], told, runways=runways, policy=policy)
        return {row["fault"]: row for row in measured.faults.rows(named=True)}

    return found


def test_sink_kept_is_that_of_the_flare_law(faults: Faults) -> None:
    """3.636 ft/s of 12.384 ft/s are left by an exponential flare of 3.3 s and 12 ft: 29.4 %."""
    row = faults()["no_flare"]
    assert row["value"] == pytest.approx(100.0 * 3.636 / 12.384, abs=3.0 * row["value_u"])
    assert row["value_u"] < 8.0
    assert row["verdict"] == "not_seen"


def test_bank_is_told_where_it_was(faults: Faults) -> None:
    """A bank of up to 12 deg at about 60 ft counts above 20 ft and not below; to the left as to the right."""
    for side in (-1.0, 1.0):
        roll = side * 12.0 * np.exp(-(((TAU + 7.0) / 1.2) ** 2))
        found = faults(extra={"roll_deg": roll})
        assert found["bank_below_100ft"]["value"] == pytest.approx(12.0, abs=0.5)
        assert found["bank_below_100ft"]["verdict"] == "seen"
        assert found["bank_below_20ft"]["value"] == pytest.approx(0.0, abs=0.2)


def test_bank_sampled_too_slowly_tells_nothing(faults: Faults) -> None:
    """Without a roll channel there is a reason and no value."""
    row = faults(without=("roll_deg",))["bank_below_20ft"]
    assert (row["value"], row["reason"], row["verdict"]) == (None, "no_channel", "cannot_tell")


@pytest.mark.parametrize(("vref_kt", "verdict"), [(150.0, "seen"), (130.0, "not_seen"), (145.5, "cannot_tell")])
def test_speed_below_reference_is_told(faults: Faults, vref_kt: float, verdict: str) -> None:
    """140 kt all the way are 10 kt short of a Vref of 150 kt, ample for 130 kt, and near the limit nobody can tell."""
    row = faults(vref_kt=vref_kt)["slow_on_approach"]
    assert row["value"] == pytest.approx(SPEED_KT - vref_kt, abs=0.1)
    assert row["verdict"] == verdict


def test_a_nose_pushed_in_a_bounce_is_told(faults: Faults) -> None:
    """Wheels off for a second while the nose falls 5 deg: bounced, and the nose was pushed."""
    off = (TAU > 0.5) & (TAU < 1.5)
    height = np.where(off, 32.174 * 0.4 * (TAU - 0.5) * (1.5 - TAU) / 2.0, 0.0)
    before = np.where(TAU < 0.0, np.nan, height)
    found = faults(
        extra=_bounced(before, pitch=5.5 - 5.0 * np.clip((TAU - 0.5) / 1.0, 0.0, 1.0), off=off),
    )
    row = found["bounce_mishandled"]
    assert found["bounce"]["verdict"] == "seen"
    assert row["verdict"] == "seen"


def _bounced(height: np.ndarray, *, pitch: np.ndarray, off: np.ndarray) -> dict[str, np.ndarray]:
    """Channels of a landing whose wheels leave the ground once more; before contact those of the flare law."""
    sink, flare_s, hb, tau_s = 12.384, 4.044, 12.0, 3.3
    straight = 28.87 - sink * (TAU + flare_s)
    flared = (28.87 + hb) * np.exp(-(TAU + flare_s) / tau_s) - hb
    flown = np.where(-flare_s < TAU, flared, straight)
    climb = np.where(-flare_s < TAU, -(flared + hb) / tau_s, -sink)
    rate = np.gradient(np.nan_to_num(height), TAU)
    fall = np.where(off, 0.6, 1.0) + 0.9 * np.sin(np.pi * np.clip((TAU - 1.5) / 0.3, 0.0, 1.0))
    first = 0.6 * np.sin(np.pi * np.clip(TAU / 0.3, 0.0, 1.0))
    bend = np.where((-flare_s < TAU) & (TAU < 0.0), (flared + hb) / tau_s**2 / 32.174, 0.0)
    lift = np.clip((TAU + flare_s + 0.5) / 2.5, 0.0, 1.0)
    return {
        "radio_height_ft": np.where(TAU < 0.0, flown, np.nan_to_num(height)) - 2.0,
        "vertical_speed_fpm": 60.0 * np.where(TAU < 0.0, climb, rate),
        "normal_accel_g": np.where(TAU < 0.0, 1.0 + bend, fall + first),
        "pitch_deg": np.where(TAU < 0.0, 2.5 + 3.0 * lift, pitch),
        "main_on_ground": ((TAU > 0.1) & ~((TAU > 0.6) & (TAU < 1.6))).astype(float),
    }
