"""Where a landing was made: an outcome and what was expected of it at the threshold in, words out."""

import polars as pl

from pipeline.statistics.expected import SCHEMA as EXPECTED

WORDS: dict[str, tuple[str, str, str, str]] = {
    "touchdown_distance_ft": (
        "long already at the threshold",
        "short already at the threshold",
        "long, made after the threshold",
        "short, made after the threshold",
    ),
    "vertical_speed_at_contact_fpm": (
        "soft already to be expected at the threshold",
        "firm already to be expected at the threshold",
        "soft, made in the flare",
        "firm, made in the flare",
    ),
}
"""Of each outcome: above and below usual by the state at the threshold; above and below what that led to expect."""

AS_EXPECTED = "as the state at the threshold led one to expect"
PART = 0.5
"""Share of the way from usual to the interval's edge from which the state at the threshold is itself unusual."""


def where_made(expected: pl.DataFrame) -> pl.DataFrame:
    """Say of each landing where its outcome was made.

    Parameters
    ----------
    expected : columns of the expected frame; rows of the threshold are used.

    Returns
    -------
    landing_id, outcome, `by_threshold` (expected less usual), `after_threshold` (value less expected), `verdict`: made
    after the threshold where the value is outside the interval; already there where it is inside, but half of the way
    from usual to the interval's edge or more was there at the threshold and the value went the same way.
    """
    rows = expected.filter(pl.col("stage") == "threshold").select(*EXPECTED)
    by, after = pl.col("expected") - pl.col("usual"), pl.col("value") - pl.col("expected")
    moved = pl.col("value") - pl.col("usual")
    above = (by > PART * (pl.col("expected_high") - pl.col("expected"))) & (moved > 0.0)
    below = (-by > PART * (pl.col("expected") - pl.col("expected_low"))) & (moved < 0.0)
    verdict = (
        pl.when(pl.col("value") > pl.col("expected_high"))
        .then(_word(2))
        .when(pl.col("value") < pl.col("expected_low"))
        .then(_word(3))
        .when(above)
        .then(_word(0))
        .when(below)
        .then(_word(1))
        .otherwise(pl.lit(AS_EXPECTED))
    )
    return rows.select("landing_id", "outcome", by_threshold=by, after_threshold=after, verdict=verdict)


def _word(place: int) -> pl.Expr:
    return pl.col("outcome").replace_strict({outcome: words[place] for outcome, words in WORDS.items()})
