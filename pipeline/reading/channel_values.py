"""Columns of a raw table and a channel's rule in, that channel's canonical value of every row out (NaN: none)."""

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.channels import Channel
from pipeline.reading.cells import Place, answers, numbers
from pipeline.reading.rule import ChannelRule
from pipeline.reading.scaling import Scaling
from pipeline.recording import Floats

Bools = NDArray[np.bool_]

NOISE_SHARE = 0.02
"""A value outside its range by less than this share of it may be noise about its end, as of a calm wind."""


def channel_values(
    columns: list[pl.Series], channel: Channel, *, rule: ChannelRule, scaling: Scaling, places: list[Place]
) -> tuple[Floats, tuple[str, ...], int]:
    """Canonical values of one channel, (rows,), from its one or several columns; notes; and how many rows lost theirs.

    Each column is read, scaled and freed of values outside the channel's plausible range before several are combined,
    so that a dead sensor does not spoil the others.

    Raises
    ------
    LogError
        A column holds something else than numbers, or than yes and no.
    """
    each: list[Floats] = []
    notes: list[str] = []
    outside = np.zeros(len(columns[0]), dtype=bool)
    margin = NOISE_SHARE * (channel.high - channel.low)
    for cells, place in zip(columns, places, strict=True):
        if rule.states or channel.kind == "switch":
            values, said = answers(cells, place, rule.states)
            values = values if channel.kind == "switch" else values * 100.0
        else:
            values, said = numbers(cells, place)
            values = values * scaling.scale + scaling.offset
        notes += said
        far = (values < channel.low) | (values > channel.high)
        outside |= (values < channel.low - margin) | (values > channel.high + margin)
        notes += _set_aside(values, far, channel, place)
        each.append(values)
    values = each[0] if len(each) == 1 else _combined(np.stack(each), channel, rule)
    if channel.kind == "angle":
        values = np.mod(values, 360.0)
        values[values == 360.0] = 0.0  # the remainder of a tiny negative angle rounds to 360 exactly
    return values, tuple(notes), int((outside & np.isnan(values)).sum())


def _set_aside(values: Floats, outside: Bools, channel: Channel, place: Place) -> list[str]:
    """Turn values outside the plausible range into NaN, in place."""
    count = int(np.count_nonzero(outside))
    if not count:
        return []
    first = int(np.argmax(outside))
    note = (
        f"column {place.column}: {count} values outside {channel.low:g} to {channel.high:g} {channel.unit} set aside;"
        f" row {place.first_row + first} gives {values[first]:g}"
    )
    values[outside] = np.nan
    return [note]


def _combined(each: Floats, channel: Channel, rule: ChannelRule) -> Floats:
    """Combine columns (columns, rows) over those that have a value in a row."""
    present = np.isfinite(each)
    some = present.any(axis=0)
    if rule.states or channel.kind == "switch":
        if rule.combine == "all":
            return np.where(some, np.where(present, each, np.inf).min(axis=0), np.nan)
        return np.where(some, np.where(present, each, -np.inf).max(axis=0), np.nan)
    share = present / np.maximum(present.sum(axis=0), 1)
    held = np.where(present, each, 0.0)
    if channel.kind == "angle":
        turn = np.radians(held)
        mean = np.degrees(np.arctan2((np.sin(turn) * share).sum(axis=0), (np.cos(turn) * share).sum(axis=0)))
        return np.where(some, mean, np.nan)
    return np.where(some, (held * share).sum(axis=0), np.nan)
