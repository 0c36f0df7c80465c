"""One check of a channel against another, or against what is possible: its statistic, its limits, its verdict."""

from dataclasses import dataclass

from pipeline.channels import CHANNELS
from pipeline.quality.factors import POSITIONS, factor_words
from pipeline.quality.relation import Relation

_WILD = 3.0
"""Bands of attitude reach to a third and three times; as much again is ten times."""


@dataclass(frozen=True)
class Check:
    """One check.

    `channels`: the one or two channels it speaks of, canonical names. `statistic` lies within `low` and `high` where
    they agree; for a pair it is usually the first in terms of the second. `passed` is None where the log does not show
    enough to judge. `wrong`: what it says of the first channel, where the statistic is no ratio. `rests_on`: channels
    that must be good for it to mean anything.
    """

    about: str
    channels: tuple[str, ...]
    statistic: float
    low: float
    high: float
    passed: bool | None
    wrong: str = ""
    rests_on: tuple[str, ...] = ()

    def reason(self, guilty: str) -> str:
        """Say in plain words what is wrong with `guilty`, one of `channels`."""
        if self.wrong:
            return self.wrong
        other = next(name for name in self.channels if name != guilty)
        ratio = self.statistic if guilty == self.channels[0] else _inverse(self.statistic)
        return factor_words(guilty, ratio, titled(other))


@dataclass(frozen=True)
class Judging:
    """How a relation of two courses is judged.

    It passes within `low` to `high` at a correlation of at least `sure`; it fails outside `low` to `high` at a
    correlation, of either sign, of at least `sure`, or at any ratio where the correlation is below `contrary`; a ratio
    ten times too small or too large fails at a correlation of `wild` already.
    """

    low: float
    high: float
    sure: float
    contrary: float
    wild: float = 1.0


def titled(channel: str) -> str:
    """Title of a channel within a sentence; latitude stands for both parts of a position."""
    title = POSITIONS if channel == "latitude_deg" else CHANNELS[channel].title
    return title[0].lower() + title[1:]


def pair(
    first: str, second: str, relation: Relation | None, judging: Judging, *, rests_on: tuple[str, ...] = ()
) -> Check:
    """Judge how `first` stands to `second`."""
    about = f"{titled(first)} against {titled(second)}"
    if relation is None:
        return Check(about, (first, second), float("nan"), judging.low, judging.high, None, rests_on=rests_on)
    inside = judging.low <= relation.ratio <= judging.high
    sure = abs(relation.correlation) >= judging.sure
    ten_times = not judging.low / _WILD <= abs(relation.ratio) <= judging.high * _WILD
    wrong = sure or relation.correlation < judging.contrary or (ten_times and relation.correlation >= judging.wild)
    passed = True if inside and sure else False if wrong else None
    return Check(about, (first, second), relation.ratio, judging.low, judging.high, passed, rests_on=rests_on)


def _inverse(ratio: float) -> float:
    return 1.0 / ratio if ratio else float("inf")
