"""A channel's values on the rows of a log in, the samples that were really taken out, and what was taken away."""

import numpy as np

from pipeline.channels import Channel
from pipeline.quality.held import sampled_rows
from pipeline.quality.spikes import apart, lone
from pipeline.recording import Floats, Repair, Samples


def channel_samples(t: Floats, values: Floats, channel: Channel, *, outside: int) -> tuple[Samples | None, Repair]:
    """Samples of one channel, None without any.

    Values repeated on rows faster than the channel are thinned to its own rate, so that its interval and noise are
    its own; values that stand apart from its course are dropped.

    Parameters
    ----------
    t, values : (rows,) s and canonical unit, NaN where a row has no value.
    outside : values set aside before, for the count.
    """
    present = ~np.isnan(values)
    if not present.all():
        t, values = t[present], values[present]
    if not len(values):
        return None, Repair(outside=outside)
    repeats = spikes = 0
    kept = None if channel.kind == "switch" else sampled_rows(values)
    if kept is not None:
        repeats = len(values) - int(kept.sum())
        t, values = t[kept], values[kept]
    wrong = lone(channel.name, values)
    if wrong is not None:
        spikes += int(wrong.sum())
        t, values = t[~wrong], values[~wrong]
    wrong = apart(channel.name, t, values)
    if wrong is not None:
        spikes += int(wrong.sum())
        t, values = t[~wrong], values[~wrong]
    return Samples(t, values), Repair(repeats, spikes, outside)


def repair_notes(key: str, repair: Repair) -> list[str]:
    """Say what was taken away; values outside the range are said where they stand."""
    notes = []
    if repair.repeats:
        notes.append(f"{key}: {repair.repeats} values repeated on rows faster than the channel left out")
    if repair.spikes:
        notes.append(f"{key}: {repair.spikes} values that stand apart from its course left out")
    return notes
