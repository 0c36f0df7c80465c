"""The rules a landing is judged by: frozen values with their source; an operator's settings replace them.

Limits are training limits: never a maintenance or airworthiness decision.
"""

import hashlib
import json
from dataclasses import asdict, dataclass, field
from typing import Literal, get_args

Criterion = Literal["speed", "sink", "localiser", "glideslope", "bank", "gear", "flap", "thrust"]
CRITERIA: tuple[Criterion, ...] = get_args(Criterion)
"""The criteria of a gate in the order in which they are listed."""


@dataclass(frozen=True)
class Gate:
    """One approach gate, judged at `height_ft` above the threshold on the median of the 2 s before it.

    Default values are our own choice (common practice); an operator's own replace them. Speed: at most
    `speed_below_target_kt` below the target and never below Vref (the accident reduction tool kit's "not less than
    VREF", quoted second-hand; a call-out 5 kt below approach speed stands in "Flying Stabilized Approaches", Flight
    Operations Briefing Notes, table 4). `dots_floor_ft`: deviations are not judged below it.

    `reference`: what the height is above, "threshold" or "airport" (its elevation in the runway table). `conditions`:
    the approaches it judges, "visual", "instrument" or "any". `criteria`: the ones asked for. A break below the gate
    counts once it lasted `lasts_s`. On a runway whose glide path is steeper than `steep_above_deg` the sink limit is
    `steep_sink_max_fpm`.
    """

    height_ft: float
    reference: Literal["threshold", "airport"] = "threshold"
    conditions: Literal["visual", "instrument", "any"] = "any"
    criteria: tuple[Criterion, ...] = CRITERIA
    lasts_s: float = 2.0
    steep_above_deg: float = 4.5
    steep_sink_max_fpm: float = 1300.0
    speed_below_target_kt: float = 5.0
    speed_above_target_kt: float = 15.0
    sink_max_fpm: float = 1000.0
    localiser_max_dots: float = 1.0
    glideslope_max_dots: float = 1.0
    dots_floor_ft: float = 100.0
    bank_max_deg: float = 30.0

    @property
    def name(self) -> str:
        """How the gate is called: its height, what that is above unless it is the threshold, and for which approaches.

        >>> Gate(500.0).name, Gate(1000.0, reference="airport", conditions="instrument").name
        ('500 ft', '1000 ft above airport, instrument')
        """
        above = "" if self.reference == "threshold" else f" above {self.reference}"
        only = "" if self.conditions == "any" else f", {self.conditions}"
        return f"{self.height_ft:g} ft{above}{only}"


@dataclass(frozen=True)
class Limits:
    """Training limits of the two outcomes the drift watch guards, and of the touchdown zone.

    `hard_fpm`: 6 ft/s, the average of certification landings (a regulator's guidance, quoted second-hand) taken
    as a training limit. Sampled g limits hold at their rate and faster. Zone: 500 to 3,000 ft or the first third of the
    landing distance available, whichever is less.
    """

    hard_fpm: float = 360.0
    sampled_g_8hz: float = 1.7
    sampled_g_16hz: float = 1.8
    zone_start_ft: float = 500.0
    zone_end_ft: float = 3000.0
    zone_fraction: float = 1.0 / 3.0


@dataclass(frozen=True)
class Expected:
    """What a type's approach is expected to show at one landing flap and weight; None where the user does not say.

    Weights between two rows of a flap are interpolated; outside them nothing is expected.
    """

    landing_flap_deg: float
    weight_kg: float
    pitch_deg: float | None = None
    thrust_pct: float | None = None
    engine_speed_pct: float | None = None


@dataclass(frozen=True)
class AircraftType:
    """What the policy knows of one type; None where it does not know.

    `profile` is "jet", "turboprop", "light" or None. `idle_at_gate_pct`: thrust lever at or below which thrust counts
    as idle at a gate; None where the type does not ask for thrust. `antenna_ahead_ft`: position antenna ahead of the
    main wheels. `wheel_track_ft`: between the main wheels. `tail_pitch_deg`: pitch at which the tail touches the runway
    with the wings level and the main struts extended.
    """

    profile: str | None = None
    vref_kt: float | None = None
    landing_flap_deg: float | None = None
    idle_at_gate_pct: float | None = None
    lever_follows_thrust: bool = False
    antenna_ahead_ft: float = 0.0
    wheel_track_ft: float | None = None
    tail_pitch_deg: float | None = None
    pod_roll_deg: float | None = None
    tip_roll_deg: float | None = None
    crosswind_max_kt: float | None = None
    tailwind_max_kt: float | None = None
    crab_max_deg: float | None = None
    tailwheel: bool = False
    expected: tuple[Expected, ...] = ()


@dataclass(frozen=True)
class FaultRule:
    """An operator's change to one fault: other limits by name, or not judged at all."""

    judged: bool = True
    limits: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Policy:
    """Everything a verdict depends on; `sha256` is stored with each verdict.

    `faults`: changes to the shipped fault rules, by the fault's name; what is not named stands as shipped.
    """

    gates: tuple[Gate, ...] = (Gate(1000.0, conditions="instrument"), Gate(500.0, conditions="visual"))
    limits: Limits = field(default_factory=Limits)
    types: dict[str, AircraftType] = field(default_factory=dict)
    faults: dict[str, FaultRule] = field(default_factory=dict)
    headwind_additive: float = 0.5
    gust_additive: float = 1.0
    additive_max_kt: float = 20.0

    @property
    def sha256(self) -> str:
        """Hash of the policy's values; equal policies have equal hashes."""
        return hashlib.sha256(json.dumps(asdict(self), sort_keys=True).encode()).hexdigest()
