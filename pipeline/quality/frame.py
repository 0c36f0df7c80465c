"""What examining recordings found in, one row a log and channel out; stretches of a long log come together."""

from collections.abc import Iterable

import polars as pl

from pipeline.quality.examine import Quality

CHANNEL_QUALITY: dict[str, type[pl.DataType]] = {
    "log_sha256": pl.String,
    "channel": pl.String,
    "samples": pl.Int64,
    "rate_hz": pl.Float64,
    "resolution": pl.Float64,
    "gaps": pl.Int64,
    "longest_gap_s": pl.Float64,
    "stuck_s": pl.Float64,
    "repeats": pl.Int64,
    "spikes": pl.Int64,
    "outside": pl.Int64,
    "lag_s": pl.Float64,
    "lag_against": pl.String,
    "suspect": pl.String,
}
"""Columns and types of the frame: as in `ChannelQuality`, after the log's hash."""

_SUMS = ("samples", "gaps", "repeats", "spikes", "outside")
_LARGEST = ("longest_gap_s", "stuck_s")
_FIRST = ("rate_hz", "lag_s", "lag_against", "suspect")


def quality_rows(log_sha256: str, quality: Quality) -> pl.DataFrame:
    """Rows of one recording."""
    rows = [{"log_sha256": log_sha256, **vars(one)} for one in quality.channels]
    return pl.DataFrame(rows, schema=CHANNEL_QUALITY)


def quality_frame(parts: Iterable[pl.DataFrame]) -> pl.DataFrame:
    """One row a log and channel, in order of first appearance.

    Over stretches counts are added (what stretches share counts twice), the largest gap and stuck time and the finest
    resolution are kept, and the first rate, lag and suspicion.
    """
    rows = pl.concat([pl.DataFrame(schema=CHANNEL_QUALITY), *parts])
    return (
        rows.group_by("log_sha256", "channel", maintain_order=True)
        .agg(
            *(pl.col(name).sum() for name in _SUMS),
            *(pl.col(name).max() for name in _LARGEST),
            pl.col("resolution").min(),
            *(pl.col(name).drop_nulls().first() for name in _FIRST),
        )
        .select(*CHANNEL_QUALITY)
    )
