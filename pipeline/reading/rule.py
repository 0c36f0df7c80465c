"""What a channel map says of one channel, checked in itself: which columns, which unit, which sign."""

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

Direction = Literal["up", "down", "above", "below", "left", "right"]
State = str | bool | float


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


class TimeRule(_Strict):
    """The time column: seconds or milliseconds from any start, ISO 8601 stamps, or clock time hh:mm:ss.s."""

    column: str = Field(min_length=1)
    unit: Literal["s", "ms", "iso8601", "clock"]


class ChannelRule(_Strict):
    """How one or several columns become a canonical channel.

    `at_rest`, `idle` and `full` are readings of the column, in its own unit; `full_deg` is the angle at full travel;
    `lag_s` how late the column is; `dot_deg` the size of one dot; `true_when` the reading or readings that mean yes.
    """

    column: str | None = Field(default=None, min_length=1)
    columns: list[str] | None = Field(default=None, min_length=1)
    unit: str | None = None
    positive: Direction | None = None
    at_rest: float | None = None
    idle: float | None = None
    full: float | None = None
    full_deg: float | None = Field(default=None, gt=0)
    lag_s: float = Field(default=0.0, ge=-10, le=10)
    dot_deg: float | None = Field(default=None, gt=0)
    true_when: State | list[State] | None = None
    combine: Literal["any", "all", "mean"] | None = None

    @model_validator(mode="after")
    def _whole(self) -> "ChannelRule":
        if (self.column is None) == (self.columns is None):
            raise ValueError("needs one of column = ... and columns = [...]")
        if len(set(self.sources)) < len(self.sources):
            raise ValueError("columns names a column twice")
        if (self.idle is None) != (self.full is None):
            raise ValueError("idle and full belong together: state both")
        if self.idle is not None and self.idle == self.full:
            raise ValueError("idle and full must differ")
        return self

    @property
    def sources(self) -> tuple[str, ...]:
        """The log's columns this channel comes from."""
        return (self.column,) if self.column is not None else tuple(self.columns or ())

    @property
    def states(self) -> tuple[State, ...]:
        """The readings that mean yes; empty where none are stated."""
        if self.true_when is None:
            return ()
        return tuple(self.true_when) if isinstance(self.true_when, list) else (self.true_when,)


class MapFile(_Strict):
    """A channel map as it is written."""

    time: TimeRule
    channels: dict[str, ChannelRule] = Field(min_length=1)
