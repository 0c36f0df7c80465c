"""Gates of the policy's own heights: judged, listed, and followed down to 50 ft."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import polars as pl
import pytest

from pipeline.measuring import measure_batch
from pipeline.policy import CRITERIA, Gate, Policy
from pipeline.recording import Recording, Samples

AIRPORT_FT = 20.0


@pytest.fixture
def gates(ideal, context, runways) -> Callable[..., pl.DataFrame]:
    """Judge an ideal landing, some of its channels put in place of others, by the given gates."""

    def judged(
        *rules: Gate, change: Callable[[Recording], dict[str, Samples]] | None = None, **known: str
    ) -> pl.DataFrame:
        recording = ideal().recording()
        if change is not None:
            recording = replace(recording, channels=dict(recording.channels) | change(recording))
        told = context.with_columns(pl.lit(value).alias(name) for name, value in known.items())
        table = runways.with_columns(pl.lit(AIRPORT_FT).alias("airport_elevation_ft"))
        return measure_batch([recording], told, runways=table, policy=Policy(gates=rules)).gates

    return judged


def test_any_height_is_judged(gates) -> None:
    """Gates at 300 and 750 ft are judged like any other, under names of their own."""
    found = gates(Gate(750.0), Gate(300.0))
    assert found["gate"].to_list() == ["750 ft", "300 ft"]
    assert found["stable"].to_list() == [True, True]
    assert found["held_to_50ft"].to_list() == [True, True]


def test_only_the_criteria_asked_for_are_judged_or_missed(gates) -> None:
    """What a gate does not ask for is neither judged nor listed as not judged."""
    every, some = gates(Gate(500.0), Gate(500.0, reference="airport", criteria=("sink", "gear"))).rows(named=True)
    assert some["judged"] + len(some["not_judged"].split()) == 2
    assert every["judged"] + len(every["not_judged"].split()) == len(CRITERIA)


def test_conditions_choose_the_gate(gates) -> None:
    """A visual approach is judged by the visual gate and by the one for any; the instrument gate has no row."""
    rules = (Gate(500.0, conditions="visual"), Gate(1000.0, conditions="instrument"), Gate(300.0))
    assert gates(*rules, conditions="visual")["gate"].to_list() == ["500 ft, visual", "300 ft"]
    assert gates(*rules, conditions="instrument")["gate"].to_list() == ["1000 ft, instrument", "300 ft"]


def test_a_break_counts_once_it_lasts(gates) -> None:
    """A sink of 1,500 ft/min for three seconds breaks a gate that asks for two, and not one that asks for five."""

    def dive(recording: Recording) -> dict[str, Samples]:
        sink = recording.channels["vertical_speed_fpm"]
        contact = recording.channels["main_on_ground"]
        when = contact.t[np.argmax(contact.value > 0.5)] - 20.0
        value = np.where(np.abs(sink.t - when) < 1.5, -1500.0, sink.value)
        return {"vertical_speed_fpm": Samples(sink.t, value)}

    asks = Gate(500.0, criteria=("sink",))
    quick, slow = gates(asks, replace(asks, lasts_s=5.0, reference="airport"), change=dive).rows(named=True)
    assert quick["first_break"] == "sink"
    assert quick["first_break_duration_s"] == pytest.approx(3.0, abs=0.3)
    assert (quick["held_to_50ft"], slow["held_to_50ft"]) == (False, True)


def test_a_height_above_the_airport_needs_its_elevation(ideal, context, runways) -> None:
    """Without the airport's elevation such a gate has no verdict and says so."""
    rule = Gate(500.0, reference="airport")
    found = measure_batch([ideal().recording()], context, runways=runways, policy=Policy(gates=(rule,))).gates
    assert found.select("stable", "reason").row(0) == (None, "no_reference")
