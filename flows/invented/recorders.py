"""The invented recorders: which channels at which rates, under which names, units and signs; and their channel maps."""

from dataclasses import dataclass, field
from typing import Literal

TimeForm = Literal["s", "ms", "iso8601", "clock"]
Option = str | float | bool
Word = str | int


@dataclass(frozen=True)
class Column:
    """How one channel is recorded: the stored number is canonical * `scale` + `offset`, rounded to `resolution`.

    Parameters
    ----------
    key : channel, as a channel map names it.
    names : the log's column, or several that are averaged (or "any" of switches).
    rate_hz : samples a second.
    noise, bias : spreads of the sensor's noise and of its constant error, canonical unit.
    lag_s : the sensor's delay.
    options : what the channel map says besides the column.
    words : what a switch records for no and for yes.
    """

    key: str
    names: tuple[str, ...]
    rate_hz: float
    scale: float = 1.0
    offset: float = 0.0
    resolution: float = 0.0
    noise: float = 0.0
    bias: float = 0.0
    lag_s: float = 0.0
    options: dict[str, Option] = field(default_factory=dict)
    words: tuple[Word, Word] | None = None


@dataclass(frozen=True)
class Recorder:
    """One kind of recorder: rows come at the fastest channel's rate; slower channels leave blanks between samples."""

    name: str
    time_column: str
    time_form: TimeForm
    suffix: str
    columns: tuple[Column, ...]
    needs_map: bool = True

    @property
    def row_hz(self) -> float:
        """Rows a second."""
        return max(column.rate_hz for column in self.columns)

    def map_text(self) -> str:
        """The recorder's channel map, TOML."""
        lines = [f"# Channel map of the recorder {self.name}.", ""]
        lines += [f"time = {{ column = {_toml(self.time_column)}, unit = {_toml(self.time_form)} }}", "", "[channels]"]
        return "\n".join([*lines, *(_map_line(column) for column in self.columns)]) + "\n"


def _toml(value: Option) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{value}"' if isinstance(value, str) else repr(value)


def _map_line(column: Column) -> str:
    if len(column.names) == 1:
        parts = [f"column = {_toml(column.names[0])}"]
    else:
        parts = [f"columns = [{', '.join(_toml(name) for name in column.names)}]"]
    parts += [f"{name} = {_toml(value)}" for name, value in column.options.items()]
    return f"{column.key} = {{ {', '.join(parts)} }}"


# Sensor errors by channel: noise, constant bias, delay in s. The delays of height and position are typical of what a
# recorder adds (common practice, no source); accuracies stay inside 14 CFR 121 appendix M.
ERRORS: dict[str, tuple[float, float, float]] = {
    "radio_height": (0.35, 0.5, 0.12),
    "pressure_altitude": (2.0, 15.0, 0.3),
    "geometric_altitude": (0.6, 2.0, 0.25),
    "vertical_speed": (8.0, 5.0, 0.0),
    "airspeed": (0.4, 0.8, 0.2),
    "ground_speed": (0.15, 0.2, 0.4),
    "pitch": (0.04, 0.35, 0.05),
    "roll": (0.05, 0.3, 0.05),
    "heading_true": (0.1, 0.4, 0.05),
    "track_true": (0.1, 0.1, 0.3),
    "normal_accel": (0.008, 0.012, 0.02),
    "longitudinal_accel": (0.004, 0.01, 0.02),
    "lateral_accel": (0.004, 0.01, 0.02),
    "thrust_lever": (0.15, 0.3, 0.05),
    "engine_speed": (0.1, 0.2, 0.1),
    "localiser": (0.01, 0.02, 0.1),
    "glideslope": (0.01, 0.02, 0.1),
    "wind_speed": (0.8, 0.5, 0.5),
    "wind_from_true": (3.0, 2.0, 0.5),
    "latitude": (1.5e-6, 4.0e-6, 0.35),
    "longitude": (2.0e-6, 5.5e-6, 0.35),
}


@dataclass(frozen=True)
class Written:
    """How a number is written: its unit, the stored reading of a canonical value, and what the map must say of it.

    The stored number is canonical * `scale` + `offset`; the rest are a channel map's own options, None where not said.
    """

    unit: str
    scale: float = 1.0
    offset: float = 0.0
    positive: str | None = None
    at_rest: float | None = None
    idle: float | None = None
    full: float | None = None
    full_deg: float | None = None
    lag_s: float | None = None

    def options(self) -> dict[str, Option]:
        """What the channel map says."""
        said = {name: value for name, value in vars(self).items() if name not in ("scale", "offset")}
        return {name: value for name, value in said.items() if value is not None}


def number(key: str, names: str, rate_hz: float, resolution: float, written: Written, rough: float = 1.0) -> Column:
    """A number; `names` separates several columns by a bar; `rough` multiplies the sensor's usual errors."""
    noise, bias, lag_s = ERRORS.get(key, (0.0, 0.0, 0.0))
    return Column(
        key=key,
        names=tuple(names.split("|")),
        rate_hz=rate_hz,
        scale=written.scale,
        offset=written.offset,
        resolution=resolution,
        noise=noise * rough,
        bias=bias * rough,
        lag_s=lag_s,
        options=written.options(),
    )


def switch(key: str, names: str, rate_hz: float, no: str, yes: str) -> Column:
    """A switch in the recorder's own words for no and yes."""
    return Column(key, tuple(names.split("|")), rate_hz, lag_s=0.15, options={"true_when": yes}, words=(no, yes))


def plain_switch(key: str, names: str, rate_hz: float) -> Column:
    """A switch recorded as 0 and 1, of which a map need say nothing."""
    return Column(key, tuple(names.split("|")), rate_hz, lag_s=0.15, words=(0, 1))
