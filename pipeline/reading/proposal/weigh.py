"""A column's name and what its values say in; each channel it could be, with its probability, out."""

from dataclasses import dataclass

import numpy as np

from pipeline.channels import BY_KEY, Channel
from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.grid import Series
from pipeline.reading.proposal.names import NameSays, name_says
from pipeline.reading.proposal.switches import two_states
from pipeline.reading.proposal.units import fits_range, units_of

_RARE, _NEVER = -4.0, -30.0
"""Log odds that a column taken at random is a given channel, and of what cannot be."""
_OTHER_UNIT, _OTHER_THING, _RIGHT_UNIT = -7.0, -5.0, 1.5
_STILL = -2.0
DEPLOYED = ("spoiler", "reverse", "brake")
"""Parts of full travel that some logs give as no and yes."""


@dataclass(frozen=True)
class Weighed:
    """A column with the probability (0 to 1) of each channel it could be, and what was found for each."""

    series: Series
    name: NameSays
    chances: dict[str, float]
    findings: dict[str, list[Finding]]

    @property
    def unit(self) -> str | None:
        """Unit the name or a row of units states."""
        return self.name.unit or self.series.column.unit_below


def weigh(series: Series, findings: list[Finding]) -> Weighed:
    """Add up what speaks for and against each channel; the rest is the chance that it is none of them."""
    name = name_says(series.name)
    mine = [f for f in findings if f.column == series.name]
    of = {key: [f for f in mine if f.channel == key] for key in BY_KEY}
    odds = {key: _odds(channel, series, name, of[key]) for key, channel in BY_KEY.items()}
    weights = {key: float(np.exp(min(value, 30.0))) for key, value in odds.items()}
    total = 1.0 + sum(weights.values())
    return Weighed(series, name, {key: weight / total for key, weight in weights.items()}, of)


def _odds(channel: Channel, series: Series, name: NameSays, findings: list[Finding]) -> float:
    said = name.points.get(channel.key, 0.0)
    shown = max((f.points for f in findings if f.points > 0.0), default=0.0)
    against = sum(f.points for f in findings if f.points < 0.0)
    if not said and not shown:
        return _NEVER
    odds = _RARE + said + shown + against + _unit_says(channel, name.unit or series.column.unit_below)
    if name.elsewhere:
        odds += _OTHER_THING
    return odds + _kind_says(channel, series, name.unit or series.column.unit_below)


def _unit_says(channel: Channel, stated: str | None) -> float:
    if stated is None:
        return 0.0
    if channel.kind == "switch":
        return _OTHER_UNIT
    return _RIGHT_UNIT if stated in units_of(channel) else _OTHER_UNIT


def _kind_says(channel: Channel, series: Series, stated: str | None) -> float:
    """What kind of column it is: two states or many values, moving or still, in a range the channel can have."""
    states, pair = series.column.states, two_states(series)
    still = len(np.unique(series.value[:: max(len(series.value) // 5000, 1)])) == 1
    if channel.kind == "switch":
        as_switch = bool(states) or pair is not None or (still and series.value[0] in (0.0, 1.0))
        return 0.0 if as_switch else _NEVER
    if states:
        return 0.0 if channel.key in DEPLOYED and len(states) <= 2 else _NEVER
    if pair is not None and channel.key in DEPLOYED:
        return 0.0
    if still:
        return (
            _STILL
            if channel.key in ("flap", "gross_weight", "wind_speed", "wind_from_true", "wind_from_magnetic", *DEPLOYED)
            else 2 * _STILL
        )
    return 0.0 if fits_range(channel, series.value, stated) else _NEVER
