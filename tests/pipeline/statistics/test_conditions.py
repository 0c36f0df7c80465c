"""Conditions are taken out of a measure, and only conditions."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest

from pipeline.statistics.conditions import Adjusted, residuals

LandingFrame = Callable[..., pl.DataFrame]

MEASURE = "vertical_speed_at_contact_fpm"
NOW = pl.col(MEASURE)


def coefficient(adjusted: Adjusted, name: str) -> tuple[float, float]:
    """Coefficient and its uncertainty, of a term that must be there."""
    (term,) = (t for t in adjusted.terms if t.name == name)
    return term.coefficient, term.coefficient_u


def test_known_effects_are_recovered(landing_frame: LandingFrame) -> None:
    """Headwind +2 ft/min a knot, crosswind -3 a knot either way, South -20: each within 3.5 of its uncertainties."""
    effect = 2.0 * pl.col("headwind_kt").clip(0.0) - 3.0 * pl.col("crosswind_kt").abs()
    adjusted = residuals(
        landing_frame(20, 125, **{MEASURE: NOW + effect - 20.0 * (pl.col("runway") == "South").cast(pl.Float64)}),
        measure=MEASURE,
        toward="high",
    )

    for name, truth in (("headwind_kt", 2.0), ("crosswind_kt", -3.0)):
        found, u = coefficient(adjusted, name)
        assert abs(found - truth) < 3.5 * u
        assert u < 0.5
    runway = next(t for t in adjusted.terms if t.name.startswith("runway"))
    assert abs(abs(runway.coefficient) - 20.0) < 3.5 * runway.coefficient_u


def test_tailwind_is_its_own_term(landing_frame: LandingFrame) -> None:
    """A tailwind's effect is found beside a headwind without effect."""
    effect = -8.0 * (-pl.col("headwind_kt")).clip(0.0)
    adjusted = residuals(landing_frame(20, 125, **{MEASURE: NOW + effect}), measure=MEASURE, toward="high")

    assert coefficient(adjusted, "tailwind_kt")[0] == pytest.approx(
        -8.0, abs=3.5 * coefficient(adjusted, "tailwind_kt")[1]
    )
    assert abs(coefficient(adjusted, "headwind_kt")[0]) < 3.5 * coefficient(adjusted, "headwind_kt")[1]


def test_drift_while_the_season_turns_does_not_bend_the_effects(landing_frame: LandingFrame) -> None:
    """Wind rises over the year while half the pilots sink faster: the effect stays, the drift stays in the residual."""
    k = pl.int_range(pl.len()).over("pilot") / pl.len().over("pilot")
    drifting = pl.col("pilot").is_in([f"P{i}" for i in range(6)]).cast(pl.Float64)
    windier = pl.col("headwind_kt") + 15.0 * k
    frame = landing_frame(
        12, 200, headwind_kt=windier, **{MEASURE: NOW + 2.0 * windier.clip(0.0) - 100.0 * k * drifting}
    )

    adjusted = residuals(frame, measure=MEASURE, toward="low")

    found, u = coefficient(adjusted, "headwind_kt")
    assert found == pytest.approx(2.0, abs=max(3.5 * u, 0.6))
    mine = adjusted.frame.filter(pl.col("pilot") == "P1")["residual"].to_numpy()
    assert mine[150:].mean() - mine[:50].mean() == pytest.approx(75.0, abs=25.0)


def test_low_turns_the_sign(landing_frame: LandingFrame) -> None:
    """Toward hard is more negative: the residual of the hardest landing is the largest."""
    frame = landing_frame(1, 100)
    up, down = (residuals(frame, measure=MEASURE, toward=t).frame["residual"].to_numpy() for t in ("high", "low"))

    assert down == pytest.approx(-up)


def test_condition_not_known_is_kept_with_a_larger_uncertainty(landing_frame: LandingFrame) -> None:
    """A landing without wind is neither dropped nor adjusted, and says so."""
    unknown = pl.int_range(pl.len()) % 10 == 0
    frame = landing_frame(
        10,
        100,
        headwind_kt=pl.when(~unknown).then("headwind_kt"),
        crosswind_kt=pl.when(~unknown).then("crosswind_kt"),
        **{MEASURE: NOW + 4.0 * pl.col("headwind_kt").clip(0.0)},
    )

    adjusted = residuals(frame, measure=MEASURE, toward="high")

    assert adjusted.n == 1000
    u = adjusted.frame.group_by("partly_adjusted").agg(pl.col("residual_u").median()).sort("partly_adjusted")
    assert u["partly_adjusted"].to_list() == [False, True]
    assert u["residual_u"][0] < 12.0
    assert u["residual_u"][1] > 15.0


def test_missing_gust_beside_a_known_wind_is_no_gust(landing_frame: LandingFrame) -> None:
    """No reported gust is a gust of 0, not an unknown one: the effect of gusts is found and nothing is partly known."""
    gusty = pl.int_range(pl.len()) % 4 == 0
    frame = landing_frame(
        20, 100, gust_spread_kt=pl.when(gusty).then(10.0), **{MEASURE: NOW - 5.0 * gusty.cast(pl.Float64) * 10.0}
    )

    adjusted = residuals(frame, measure=MEASURE, toward="high")

    assert coefficient(adjusted, "gust_spread_kt")[0] == pytest.approx(-5.0, abs=0.7)
    assert not adjusted.frame["partly_adjusted"].any()


def test_a_new_type_nothing_supports_is_held_against_itself(landing_frame: LandingFrame) -> None:
    """A lone pilot who changes aircraft for good: the type's effect cannot be told from a change of his."""
    later = pl.int_range(pl.len()) >= 100
    frame = landing_frame(1, 200, aircraft_type=pl.when(later).then(pl.lit("Teal")).otherwise(pl.lit("Heron")))

    streams = residuals(frame, measure=MEASURE, toward="high").frame["stream"].to_list()

    assert len(set(streams[:100])) == len(set(streams[100:])) == 1
    assert streams[0] != streams[-1]


def test_types_flown_in_turn_are_put_on_one_footing(landing_frame: LandingFrame) -> None:
    """Where pilots mix two types, the difference is a term and all landings share one stream."""
    teal = pl.col("aircraft") == "AC1"
    frame = landing_frame(
        10,
        100,
        aircraft_type=pl.when(teal).then(pl.lit("Teal")).otherwise(pl.lit("Heron")),
        **{MEASURE: NOW - 60.0 * teal.cast(pl.Float64)},
    )

    adjusted = residuals(frame, measure=MEASURE, toward="high")

    assert set(adjusted.frame["stream"]) == {""}
    assert coefficient(adjusted, "aircraft_type: Teal")[0] == pytest.approx(-60.0, abs=15.0)


def test_one_wild_value_hardly_moves_the_effects(landing_frame: LandingFrame) -> None:
    """A single landing at -5,000 ft/min in 2,000 moves the wind's effect by under one of its uncertainties."""
    wild = pl.when(pl.int_range(pl.len()) == 7).then(-5000.0).otherwise(NOW)
    plain, spiked = (
        residuals(landing_frame(20, 100, **{MEASURE: m}), measure=MEASURE, toward="high") for m in (NOW, wild)
    )

    found, u = coefficient(plain, "headwind_kt")
    assert abs(coefficient(spiked, "headwind_kt")[0] - found) < u


def test_uncertainty_of_the_effects_is_honest(landing_frame: LandingFrame) -> None:
    """Over 30 seeds the headwind's error has spread 1 in units of its stated uncertainty, within 0.35."""
    scaled = []
    for seed in range(30):
        frame = landing_frame(6, 100, seed=seed, **{MEASURE: NOW + 2.0 * pl.col("headwind_kt").clip(0.0)})
        found, u = coefficient(residuals(frame, measure=MEASURE, toward="high"), "headwind_kt")
        scaled.append((found - 2.0) / u)

    assert np.std(scaled) == pytest.approx(1.0, abs=0.35)


@pytest.mark.parametrize("n", [0, 1, 5, 20])
def test_few_landings_are_left_as_they_are(landing_frame: LandingFrame, n: int) -> None:
    """Too few to support a term: the residual is the measure."""
    frame = landing_frame(1, 20).head(n)

    adjusted = residuals(frame, measure=MEASURE, toward="high")

    assert adjusted.terms == ()
    assert adjusted.frame["residual"].to_list() == frame[MEASURE].to_list()
