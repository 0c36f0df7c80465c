"""A channel map file in, the checked way from a log's columns to canonical channels out; and which map fits a log."""

import difflib
import hashlib
import json
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

from pydantic import ValidationError

from pipeline.channels import BY_KEY, CHANNELS
from pipeline.errors import LogError, MapError
from pipeline.reading.rule import ChannelRule, MapFile, TimeRule
from pipeline.reading.scaling import Scaling, scaling

_LISTED = 12


@dataclass(frozen=True)
class ChannelMap:
    """How one recorder's columns become canonical channels.

    `rules` and `scalings` are by the channel's key, in the map's order; `sha256` depends on what the map says, not on
    how it is laid out.
    """

    name: str
    time: TimeRule
    rules: dict[str, ChannelRule]
    scalings: dict[str, Scaling]

    @property
    def columns(self) -> tuple[str, ...]:
        """The log's columns this map needs, the time column first, each once."""
        return tuple(dict.fromkeys((self.time.column, *(c for rule in self.rules.values() for c in rule.sources))))

    @cached_property
    def sha256(self) -> str:
        """Hash of the map's meaning."""
        said = {key: rule.model_dump(exclude_defaults=True) for key, rule in self.rules.items()}
        meaning = {"time": self.time.model_dump(), "channels": said}
        return hashlib.sha256(json.dumps(meaning, sort_keys=True).encode()).hexdigest()


def load_map(path: Path) -> ChannelMap:
    """Read a channel map from a TOML file.

    Raises
    ------
    MapError
        The file is missing or not TOML; a key is unknown, missing or of the wrong kind; a unit does not fit its
        channel. The message names the file and the key.
    """
    try:
        said = tomllib.loads(path.read_text(encoding="utf-8-sig"))
        file = MapFile.model_validate(said)
    except FileNotFoundError as error:
        raise MapError(f"map {path.name}: there is no such file as {path}; check the path") from error
    except OSError as error:
        raise MapError(f"map {path.name}: cannot be read ({error.strerror})") from error
    except ValidationError as error:
        raise MapError(f"map {path.name}: {_first_problem(error)}") from error
    except ValueError as error:  # text that is not UTF-8 or not TOML
        raise MapError(f"map {path.name}: not a TOML file ({error}); mend that line") from error
    return _checked(path.name, file.time, file.channels)


@cache
def canonical_map(columns: tuple[str, ...]) -> ChannelMap | None:
    """Map for a log that bears the canonical names itself (`t_s` in seconds); None where it does not."""
    channels = [channel for channel in CHANNELS.values() if channel.name in columns]
    if "t_s" not in columns or not channels:
        return None
    rules = {
        channel.key: ChannelRule(column=channel.name, unit=None if channel.kind == "switch" else channel.unit)
        for channel in channels
    }
    return _checked("canonical names", TimeRule(column="t_s", unit="s"), rules)


def choose_map(columns: Sequence[str], maps: Iterable[ChannelMap], *, log_file: str) -> ChannelMap:
    """Return the one map whose columns the log all has, else the canonical names.

    Raises
    ------
    MapError
        Two maps fit.
    LogError
        No map fits and the log does not bear canonical names; the message says what the nearest map misses.
    """
    offered = list(maps)
    fitting = [offer for offer in offered if not _missing(offer, columns)]
    if len(fitting) > 1:
        names = " and ".join(offer.name for offer in fitting)
        raise MapError(f"{log_file}: {names} both fit its columns; name one with --map or in the manifest's map column")
    chosen = fitting[0] if fitting else canonical_map(tuple(columns))
    if chosen is not None:
        return chosen
    nearest = min(offered, key=lambda offer: len(_missing(offer, columns)), default=None)
    if nearest is None:
        why = "it has no column t_s" if "t_s" not in columns else "it has no other canonical column"
        raise LogError(f"{log_file}: there is no map for it and {why}; write a map for its columns {_listed(columns)}")
    raise LogError(
        f"{log_file}: no map fits; the nearest, {nearest.name}, needs {_listed(_missing(nearest, columns))}, which the"
        f" log does not have; its columns are {_listed(columns)}; mend that map or write one"
    )


def require_columns(channel_map: ChannelMap, columns: Sequence[str], *, log_file: str) -> None:
    """Refuse a map that names a column the log does not have.

    Raises
    ------
    MapError
        Names the map, the key, the column, and the columns there are.
    """
    missing = _missing(channel_map, columns)
    if not missing:
        return
    keys = (key for key, rule in channel_map.rules.items() if missing[0] in rule.sources)
    key = "time" if missing[0] == channel_map.time.column else f"channels.{next(keys)}"
    raise MapError(
        f"map {channel_map.name}: {key} names column {missing[0]!r}, which {log_file} does not have;"
        f" its columns are {_listed(columns)}"
    )


def _missing(channel_map: ChannelMap, columns: Sequence[str]) -> tuple[str, ...]:
    there = set(columns)
    return tuple(column for column in channel_map.columns if column not in there)


def _checked(name: str, time: TimeRule, rules: dict[str, ChannelRule]) -> ChannelMap:
    scalings = {}
    for key, rule in rules.items():
        if key not in BY_KEY:
            near = difflib.get_close_matches(key, BY_KEY, n=1) or [", ".join(BY_KEY)]
            raise MapError(f"map {name}: channels.{key} is no channel; did you mean {near[0]}?")
        try:
            scalings[key] = scaling(BY_KEY[key], rule)
        except MapError as error:
            raise MapError(f"map {name}: channels.{key}: {error}") from error
    return ChannelMap(name, time, rules, scalings)


def _first_problem(error: ValidationError) -> str:
    """Say the first problem in a sentence: key, what was found, what is needed."""
    problem = error.errors(include_url=False)[0]
    key = ".".join(str(part) for part in problem["loc"] if not _is_branch(part))
    if problem["type"] == "extra_forbidden":
        known = [*ChannelRule.model_fields] if key.startswith("channels") else [*TimeRule.model_fields, "channels"]
        near = difflib.get_close_matches(key.rsplit(".", 1)[-1], known, n=1)
        return f"{key} is no key of a map" + (f"; did you mean {near[0]}?" if near else "; leave it out")
    if problem["type"] == "missing":
        return f"{key} is missing; state it"
    if problem["type"] in {"model_type", "dict_type"}:
        return f'{key} = {problem["input"]!r}: needs a table such as {{ column = "...", unit = "..." }}'
    return f"{key} = {problem['input']!r}: {problem['msg'].removeprefix('Value error, ')}"


def _is_branch(part: int | str) -> bool:
    """Whether a part of the problem's place names an alternative of a type and no key."""
    return isinstance(part, str) and (part in {"str", "bool", "float"} or part.startswith("list["))


def _listed(columns: Sequence[str]) -> str:
    more = len(columns) - _LISTED
    return ", ".join(repr(column) for column in columns[:_LISTED]) + (f" and {more} more" if more > 0 else "")
