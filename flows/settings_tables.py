"""The tables a settings file may hold, each key with its type, range and default."""

import re
from typing import Annotated, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, field_validator

from pipeline.faults.limits import limit_names
from pipeline.faults.rules import FAULTS
from pipeline.policy import AircraftType, Criterion, FaultRule, Gate, Limits, Policy


def _zone(name: str) -> str:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        message = f'"{name}" is not a time zone; write one as "UTC" or "Area/City"'
        raise ValueError(message) from error
    return name


def _cron(text: str) -> str:
    if not re.fullmatch(r"[\w*/,?#-]+( +[\w*/,?#-]+){4}", text.strip()):
        message = f'"{text}" is not a schedule; write five fields: minute hour day month weekday, as "0 6 * * 1"'
        raise ValueError(message)
    return text


Zone = Annotated[str, AfterValidator(_zone)]
Cron = Annotated[str, AfterValidator(_cron)]
Positive = Annotated[float, Field(gt=0)]
NotNegative = Annotated[float, Field(ge=0)]
GateHeight = Annotated[float, Field(ge=100, le=2000)]
Share = Annotated[float, Field(gt=0, le=1)]
Percent = Annotated[float, Field(ge=-100, le=100)]


class Table(BaseModel):
    """A table of the file: unknown keys, wrong types and numbers that are not finite are refused."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


class GateTable(Table):
    """One approach gate; the fields are those of the policy's gate."""

    height_ft: GateHeight
    reference: Literal["threshold", "airport"] = "threshold"
    conditions: Literal["visual", "instrument", "any"] = "any"
    criteria: tuple[Criterion, ...] = Field(default=Gate.criteria, strict=False, min_length=1)
    lasts_s: Positive = Gate.lasts_s
    steep_above_deg: Positive = Gate.steep_above_deg
    steep_sink_max_fpm: Positive = Gate.steep_sink_max_fpm
    speed_below_target_kt: NotNegative = Gate.speed_below_target_kt
    speed_above_target_kt: NotNegative = Gate.speed_above_target_kt
    sink_max_fpm: Positive = Gate.sink_max_fpm
    localiser_max_dots: Positive = Gate.localiser_max_dots
    glideslope_max_dots: Positive = Gate.glideslope_max_dots
    dots_floor_ft: NotNegative = Gate.dots_floor_ft
    bank_max_deg: Positive = Gate.bank_max_deg


class LimitsTable(Table):
    """Training limits and the touchdown zone; the fields are those of the policy's limits."""

    hard_fpm: Positive = Limits.hard_fpm
    sampled_g_8hz: Positive = Limits.sampled_g_8hz
    sampled_g_16hz: Positive = Limits.sampled_g_16hz
    zone_start_ft: NotNegative = Limits.zone_start_ft
    zone_end_ft: Positive = Limits.zone_end_ft
    zone_fraction: Share = Limits.zone_fraction


class ExpectedTable(Table):
    """What a type's approach is expected to show at one landing flap and weight; a key left out is not expected."""

    landing_flap_deg: NotNegative
    weight_kg: Positive
    pitch_deg: float | None = None
    thrust_pct: Percent | None = None
    engine_speed_pct: NotNegative | None = None


class FaultTable(Table):
    """A change to one fault: not judged, or other limits by name."""

    judged: bool = FaultRule.judged
    limits: dict[str, float] = Field(default_factory=dict)


class TypeTable(Table):
    """What is known of one aircraft type; a key left out is not known."""

    profile: Literal["jet", "turboprop", "light"] | None = None
    vref_kt: Positive | None = None
    landing_flap_deg: NotNegative | None = None
    idle_at_gate_pct: Percent | None = None
    lever_follows_thrust: bool = AircraftType.lever_follows_thrust
    antenna_ahead_ft: float = AircraftType.antenna_ahead_ft
    wheel_track_ft: Positive | None = None
    tail_pitch_deg: Positive | None = None
    pod_roll_deg: Positive | None = None
    tip_roll_deg: Positive | None = None
    crosswind_max_kt: Positive | None = None
    tailwind_max_kt: NotNegative | None = None
    crab_max_deg: Positive | None = None
    tailwheel: bool = AircraftType.tailwheel
    expected: tuple[ExpectedTable, ...] = Field(default=(), strict=False)


class PolicyTable(Table):
    """The rules a landing is judged by, without the types, which have a table of their own."""

    headwind_additive: NotNegative = Policy.headwind_additive
    gust_additive: NotNegative = Policy.gust_additive
    additive_max_kt: NotNegative = Policy.additive_max_kt
    gates: tuple[GateTable, ...] = Field(
        default=tuple(GateTable(height_ft=gate.height_ft, conditions=gate.conditions) for gate in Policy.gates),
        strict=False,
    )
    limits: LimitsTable = LimitsTable()
    faults: dict[str, FaultTable] = Field(default_factory=dict)

    @field_validator("faults")
    @classmethod
    def _known(cls, faults: dict[str, FaultTable]) -> dict[str, FaultTable]:
        for name, change in faults.items():
            if name not in FAULTS:
                message = f'"{name}" is no fault; `roundout faults` lists all'
                raise ValueError(message)
            own = limit_names(FAULTS[name])
            if strange := sorted(set(change.limits) - set(own)):
                message = f'{name}.limits: "{strange[0]}" is none of its limits; it has {", ".join(own) or "none"}'
                raise ValueError(message)
        return faults

    @field_validator("gates")
    @classmethod
    def _one_each(cls, gates: tuple[GateTable, ...]) -> tuple[GateTable, ...]:
        names = [Gate(**gate.model_dump()).name for gate in gates]
        if len(set(names)) < len(names):
            message = "two gates have the same height, reference and conditions; keep one of them"
            raise ValueError(message)
        return gates


class ScheduleTable(Table):
    """When `roundout serve` runs the two jobs: five-field schedules in `zone`."""

    ingest: Cron = "*/15 * * * *"
    week: Cron = "0 6 * * 1"
    zone: Zone = "UTC"


class EngineTable(Table):
    """How the work is spread: worker processes (0 decides by the amount of work) and logs a batch."""

    workers: Annotated[int, Field(ge=0, le=64)] = 0
    batch_logs: Annotated[int, Field(ge=1, le=1000)] = 100


class PrivacyTable(Table):
    """The key file of the pseudonyms, relative to the workspace, and who sees a flag after the pilot."""

    key_file: Annotated[str, Field(min_length=1)] = "pseudonyms.key"
    flag_seen_next_by: Literal["nobody", "training"] = "nobody"


class KeepTable(Table):
    """What is kept: how many editions (0 keeps all), and the logs as they came."""

    editions: Annotated[int, Field(ge=0)] = 0
    originals: bool = True
