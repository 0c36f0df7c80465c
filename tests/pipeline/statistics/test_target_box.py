"""The target box asks for zone, speed and a sink that is neither hard nor the softest."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest

from pipeline.statistics.target_box import box_share, in_target_box

LandingFrame = Callable[..., pl.DataFrame]


def one(landing_frame: LandingFrame, **changes: float | bool | None) -> float | None:
    """Chance that one landing in the middle of the box, with some changes, was inside."""
    middle = {
        "in_touchdown_zone": True,
        "in_touchdown_zone_confidence": 1.0,
        "threshold_speed_over_vref_kt": 5.0,
        "threshold_speed_over_vref_kt_u": 1.0,
        "vertical_speed_at_contact_fpm": -180.0,
        "vertical_speed_at_contact_fpm_u": 10.0,
    }
    frame = landing_frame(
        1,
        1,
        **{
            name: pl.lit(value, dtype=pl.Boolean if name == "in_touchdown_zone" else pl.Float64)
            for name, value in (middle | changes).items()
        },
    )
    return in_target_box(frame)[0]


@pytest.mark.parametrize(
    ("changes", "chance"),
    [
        ({}, 1.0),
        ({"vertical_speed_at_contact_fpm": 0.0}, 0.0),  # too soft: floated
        ({"vertical_speed_at_contact_fpm": -400.0}, 0.0),
        ({"vertical_speed_at_contact_fpm": -300.0}, 0.5),  # on the edge
        ({"threshold_speed_over_vref_kt": 25.0}, 0.0),
        ({"threshold_speed_over_vref_kt": -12.0}, 0.0),
        ({"in_touchdown_zone": False}, 0.0),
        ({"in_touchdown_zone": False, "in_touchdown_zone_confidence": 0.8}, 0.2),
        (
            {"target_speed_kt": 130.0, "threshold_airspeed_kt": 150.0, "threshold_airspeed_kt_u": 1.0},
            0.0,
        ),  # target first
        ({"in_touchdown_zone": None}, None),
        ({"vertical_speed_at_contact_fpm": None}, None),
        ({"threshold_speed_over_vref_kt": None}, None),
    ],
)
def test_edges_of_the_box(
    landing_frame: LandingFrame, changes: dict[str, float | bool | None], chance: float | None
) -> None:
    """Each edge by itself; a measure that is missing leaves it open."""
    found = one(landing_frame, **changes)

    assert found == (None if chance is None else pytest.approx(chance, abs=1e-6))


def test_a_poor_recorder_does_not_pull_the_share_to_a_half() -> None:
    """Of 4,000 landings 80 % inside; each says so with the odds 4 to 1 and is right as often: 0.8 is recovered, not 0.68."""
    rng = np.random.default_rng(2)
    inside = rng.random(4000) < 0.8
    says = np.where(rng.random(4000) < 0.8, inside, ~inside)
    share = box_share(np.where(says, 0.8, 0.2), pl.Series(np.arange(4000) // 4))

    assert share is not None
    assert share.share == pytest.approx(0.8, abs=0.04)
    assert share.low < 0.8 < share.high


def test_few_landings_give_no_share() -> None:
    """19 landings, or 5 sessions of 20, are too few."""
    assert box_share(np.ones(19), pl.Series(range(19))) is None
    assert box_share(np.ones(100), pl.Series(np.arange(100) // 20)) is None
    assert box_share(np.ones(20), pl.Series(range(20))) is not None
