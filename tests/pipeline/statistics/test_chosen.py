"""Two things to work on: those that go with most, told from landings that did not choose them."""

from collections.abc import Callable

import numpy as np
import polars as pl

from pipeline.statistics.chosen import SCHEMA, to_work_on
from pipeline.statistics.eligible import eligible

LandingFrame = Callable[..., pl.DataFrame]
FIRM = "vertical_speed_at_contact_fpm"
BY = {"late_flare": 80.0, "high_flare": 40.0, "climb_in_flare": 60.0, "fast_at_threshold": 0.0}


def made(landing_frame: LandingFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Twelve pilots of 120; pilot P0 flares late half the time, the others a fifth; fast is common and goes with nothing."""
    rng = np.random.default_rng(1)
    frame = landing_frame(12, 120, session=2)
    first = (frame["pilot"] == "P0").to_numpy()
    often = {name: np.full(1440, 0.2) for name in BY} | {"fast_at_threshold": np.full(1440, 0.6)}
    often["late_flare"] = np.where(first, 0.5, 0.2)
    there = {name: (rng.random(1440) < p).astype(float) for name, p in often.items()}
    firmer = sum(there[name] * by for name, by in BY.items())
    faults = [
        frame.select("landing_id", fault=pl.lit(n)).with_columns(pl.Series("probability", t)) for n, t in there.items()
    ]
    return frame.with_columns(pl.col(FIRM) - pl.Series(firmer)), pl.concat(faults)


def test_those_that_go_with_most(landing_frame: LandingFrame) -> None:
    """P0: late flare first (half of 80), climbing next (a fifth of 60); never the common fault that goes with nothing."""
    found = to_work_on(*made(landing_frame))

    own = found.filter(pl.col("pilot") == "P0")
    assert own["fault"].to_list() == ["late_flare", "climb_in_flare"]
    assert own["place"].to_list() == [1, 2]
    assert own["burden_low"][0] < 40.0 < own["burden_high"][0]
    assert "fast_at_threshold" not in found["fault"].to_list()
    assert found.group_by("pilot").len()["len"].max() == 2


def test_half_of_the_landings_tell(landing_frame: LandingFrame) -> None:
    """60 of the pilot's 120 are told from, and the share to expect lies between the pilot's and the cohort's."""
    own = to_work_on(*made(landing_frame)).row(
        by_predicate=(pl.col("pilot") == "P0") & (pl.col("place") == 1), named=True
    )

    assert own["landings"] == 60
    assert own["share_low"] < 0.5 < own["share_high"]
    assert 0.3 < own["expected_share"] < 0.55


def test_sessions_that_choose_do_not_tell(landing_frame: LandingFrame) -> None:
    """Another 50 with the fault in the sessions that choose leaves what is told."""
    frame, faults = made(landing_frame)
    late = faults.filter(pl.col("fault") == "late_flare").select("landing_id", "probability")
    odd = pl.col("session").rank("dense").over("pilot") % 2 == 1
    chooses = eligible(frame).select("landing_id", chooses=odd.cast(pl.Float64)).join(late, on="landing_id")
    wider = frame.join(chooses, on="landing_id", how="left", maintain_order="left")
    moved = wider.with_columns(pl.col(FIRM) - 50.0 * pl.col("probability") * pl.col("chooses")).select(frame.columns)

    same, other = (
        to_work_on(f, faults).filter(pl.col("fault") == "late_flare", pl.col("pilot") == "P0") for f in (frame, moved)
    )

    assert same["difference"].to_list() == other["difference"].to_list()


def test_a_fault_a_pilot_hardly_has_is_not_for_him_to_work_on(landing_frame: LandingFrame) -> None:
    """P11 flares late on every fiftieth landing: others are told to work on it, he is not."""
    frame, faults = made(landing_frame)
    theirs = faults.join(frame.select("landing_id", "pilot"), on="landing_id", maintain_order="left")
    rare = (pl.col("fault") == "late_flare") & (pl.col("pilot") == "P11") & (pl.int_range(pl.len()) % 50 > 0)
    found = to_work_on(frame, theirs.with_columns(probability=pl.when(rare).then(0.0).otherwise("probability")))

    late = found.filter(pl.col("fault") == "late_flare")["pilot"].to_list()

    assert "P0" in late
    assert "P11" not in late
    assert found.filter(pl.col("pilot") == "P11")["place"].to_list() == [1, 2]


def test_nothing_to_choose_from(landing_frame: LandingFrame) -> None:
    """Few landings, or none: an empty frame."""
    frame, faults = made(landing_frame)

    assert to_work_on(frame.head(30), faults).schema == SCHEMA
    assert to_work_on(frame.head(0), faults).is_empty()
