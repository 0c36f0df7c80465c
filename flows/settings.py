"""The settings file in, validated settings out: policy, schedule, engine, privacy, retention; absent means default."""

import tomllib
from importlib import resources
from pathlib import Path
from typing import Self

from pydantic import Field, ValidationError

from flows.settings_tables import (
    EngineTable,
    KeepTable,
    PolicyTable,
    PrivacyTable,
    ScheduleTable,
    Table,
    TypeTable,
    Zone,
)
from pipeline.errors import SettingsError
from pipeline.policy import AircraftType, Expected, FaultRule, Gate, Limits, Policy


class Settings(Table):
    """Everything the settings file can say.

    `zone` is the time zone of the dates on the pages; weeks are ISO weeks in UTC.
    """

    zone: Zone = "UTC"
    policy: PolicyTable = PolicyTable()
    types: dict[str, TypeTable] = Field(default_factory=dict)
    schedule: ScheduleTable = ScheduleTable()
    engine: EngineTable = EngineTable()
    privacy: PrivacyTable = PrivacyTable()
    keep: KeepTable = KeepTable()

    @property
    def rules(self) -> Policy:
        """The policy as the measuring code takes it."""
        table = self.policy
        return Policy(
            gates=tuple(Gate(**gate.model_dump()) for gate in table.gates),
            limits=Limits(**table.limits.model_dump()),
            types={name: _type(row) for name, row in self.types.items()},
            faults={name: FaultRule(**row.model_dump()) for name, row in table.faults.items()},
            headwind_additive=table.headwind_additive,
            gust_additive=table.gust_additive,
            additive_max_kt=table.additive_max_kt,
        )

    @classmethod
    def read(cls, file: Path) -> Self:
        """Read the settings of `file`; the defaults where there is no such file.

        Raises
        ------
        SettingsError
            Not TOML, an unknown key, a wrong type or a value out of range; each key is named.
        """
        try:
            text = file.read_text("utf-8")
        except FileNotFoundError:
            return cls()
        except (OSError, UnicodeDecodeError) as error:
            message = f"{file}: cannot be read as text ({error}); mend or remove it"
            raise SettingsError(message) from error
        try:
            return cls.model_validate(tomllib.loads(text))
        except tomllib.TOMLDecodeError as error:
            message = f"{file}: not TOML: {error}"
            raise SettingsError(message) from error
        except ValidationError as error:
            faults = (_sentence(item["loc"], item["msg"], item["type"]) for item in error.errors())
            message = f"{file}: " + "; ".join(faults)
            raise SettingsError(message) from error


def _type(row: TypeTable) -> AircraftType:
    expected = tuple(Expected(**one.model_dump()) for one in row.expected)
    return AircraftType(**row.model_dump(exclude={"expected"}), expected=expected)


def commented_text() -> str:
    """Return the text of a settings file with every key at its default and what each one means."""
    return resources.files("flows").joinpath("roundout.toml").read_text("utf-8")


def _sentence(location: tuple[int | str, ...], found: str, kind: str) -> str:
    """One mended sentence for one fault; the key is written as in the file, list places counted from 1."""
    key = ".".join(str(part + 1) if isinstance(part, int) else part for part in location)
    if kind == "extra_forbidden":
        return f"{key}: unknown key; `roundout init` writes a file with every key there is"
    return f"{key}: {found.removeprefix('Value error, ')}"
