"""Styles of landing: found where they are, one where there is one, and nobody is put where he does not belong."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest
from sklearn.metrics import adjusted_rand_score

from pipeline.statistics.style_features import FEATURES
from pipeline.statistics.styles import LANDING_STYLE_SCHEMA, STYLE_SCHEMA, find_styles, separation

LandingFrame = Callable[..., pl.DataFrame]
TRUTH = pl.Series("truth", np.random.default_rng(0).choice(3, 1200, p=[0.5, 0.3, 0.2]))


def three_styles() -> dict[str, pl.Expr | pl.Series]:
    """Early and slow, late and quick with late thrust, and the middle: 6 and 5 spreads apart."""
    early, late = (TRUTH == 1).cast(pl.Float64), (TRUTH == 2).cast(pl.Float64)
    return {
        "flare_height_ft": pl.col("flare_height_ft") + 20.0 * early - 8.0 * late,
        "pitch_rate_dps": pl.col("pitch_rate_dps") - 0.45 * early + 0.45 * late,
        "thrust_close_lag_s": pl.col("thrust_close_lag_s") + 2.4 * late,
    }


def test_three_styles_are_found_sorted_and_named(landing_frame: LandingFrame) -> None:
    """Shares, order, names in trade words and each landing's style agree with the truth put in."""
    found = find_styles(landing_frame(12, 100, **three_styles()))

    styles = found.style.unique("style", maintain_order=True)
    assert styles["style"].to_list() == [0, 1, 2]
    assert styles["share"].to_list() == pytest.approx([0.5, 0.3, 0.2], abs=0.04)
    assert "flare begun higher" in styles["name"][1]
    assert "thrust closed later" in styles["name"][2]
    assert found.style["feature"].to_list() == list(FEATURES) * 3
    assert found.landing_style["style"].count() > 1100


def test_landings_are_put_where_they_belong(landing_frame: LandingFrame) -> None:
    """Of those given a style, nearly all are given their own."""
    frame = landing_frame(12, 100, **three_styles()).with_columns(TRUTH)
    placed = find_styles(frame).landing_style.join(frame.select("landing_id", "truth"), on="landing_id").drop_nulls()

    assert adjusted_rand_score(placed["truth"], placed["style"]) > 0.95


def test_one_style_is_a_possible_answer(landing_frame: LandingFrame) -> None:
    """Landings without styles are one style, and nearly all belong to it."""
    found = find_styles(landing_frame(6, 100))

    assert found.style["name"].unique().to_list() == ["one style (Heron)"]
    assert found.style["share"][0] > 0.98
    assert "would be seen as one" in found.statement


def test_two_types_flown_in_turn_are_not_two_styles(landing_frame: LandingFrame) -> None:
    """A type flared 25 ft higher is no style of its own where pilots fly both."""
    other = pl.col("aircraft") == "AC1"
    frame = landing_frame(
        6,
        100,
        aircraft_type=pl.when(other).then(pl.lit("Teal")).otherwise(pl.lit("Heron")),
        flare_height_ft=pl.col("flare_height_ft") + 25.0 * other.cast(pl.Float64),
    )

    assert find_styles(frame).style["name"].unique().to_list() == ["one style (Heron)"]


def test_types_nobody_mixes_have_styles_of_their_own(landing_frame: LandingFrame) -> None:
    """Where each pilot keeps to a type, the types are fitted apart, and one too rarely flown is not told at all."""
    teal, wren = pl.col("pilot").is_in(["P1", "P3", "P5"]), pl.col("pilot") == "P6"
    kind = pl.when(teal).then(pl.lit("Teal")).when(wren).then(pl.lit("Wren")).otherwise(pl.lit("Heron"))
    higher = pl.col("flare_height_ft") + 25.0 * teal.cast(pl.Float64) - 20.0 * wren.cast(pl.Float64)

    found = find_styles(landing_frame(7, 100, aircraft_type=kind, flare_height_ft=higher))

    assert sorted(found.style["name"].unique()) == ["one style (Heron)", "one style (Teal)"]
    assert found.landing_style.height == 600


def test_missing_features_are_lived_with(landing_frame: LandingFrame) -> None:
    """No thrust lever in the fleet: the other features serve; a landing with only two features gets no row."""
    bare = pl.int_range(pl.len()) < 5
    frame = landing_frame(
        6,
        100,
        thrust_close_lag_s=pl.lit(None, dtype=pl.Float64),
        thrust_close_height_ft=pl.when(~bare).then("thrust_close_height_ft"),
        flare_height_ft=pl.when(~bare).then("flare_height_ft"),
    )

    found = find_styles(frame)

    assert found.style["feature"].to_list() == [f for f in FEATURES if f != "thrust_close_lag_s"]
    assert found.landing_style.height == 595


def test_oddity_is_none_of_them(landing_frame: LandingFrame) -> None:
    """A landing far from all others in every feature has a row and no style."""
    odd = (pl.int_range(pl.len()) == 10).cast(pl.Float64)
    changes = {feature: pl.col(feature) * (1.0 + 3.0 * odd) for feature in FEATURES}
    frame = landing_frame(6, 100, **changes)

    found = find_styles(frame).landing_style.filter(pl.col("landing_id") == frame["landing_id"][10])

    assert found["style"].to_list() == [None]


def test_a_handful_alike_is_no_style(landing_frame: LandingFrame) -> None:
    """Two landings in a hundred that agree with each other, far from the rest, make no style."""
    few = (pl.int_range(pl.len()) % 50 == 0).cast(pl.Float64)
    far = {"flare_height_ft": 40.0, "pitch_rate_dps": 1.5, "thrust_close_lag_s": 6.0}
    found = find_styles(landing_frame(6, 100, **{name: pl.col(name) + by * few for name, by in far.items()}))

    assert found.style["name"].unique().to_list() == ["one style (Heron)"]
    assert found.landing_style["style"].null_count() >= 12


def test_feature_that_is_mostly_noise_takes_no_part(landing_frame: LandingFrame) -> None:
    """A recorder too slow for pitch rate leaves it out."""
    found = find_styles(landing_frame(6, 100, pitch_rate_dps_u=pl.lit(0.3)))

    assert "pitch_rate_dps" not in found.style["feature"].to_list()


@pytest.mark.parametrize("n", [0, 1, 5, 100])
def test_too_few_landings_cannot_tell_yet(landing_frame: LandingFrame, n: int) -> None:
    """Valid empty frames and a sentence that says so."""
    found = find_styles(landing_frame(1, 100).head(n))

    assert (found.style.schema, found.landing_style.schema) == (STYLE_SCHEMA, LANDING_STYLE_SCHEMA)
    assert (found.style.height, found.landing_style.height) == (0, 0)
    assert found.statement.startswith("Cannot tell yet")


def test_separation_that_can_be_seen() -> None:
    """5.5 spreads with 300 landings and fewer, 4 with 2,000 and more."""
    assert "about 5.5 spreads" in separation(250)
    assert "about 4.0 spreads" in separation(5000)
