"""What one flight is to be: airframe, air, runway, technique and ending."""

from dataclasses import asdict, dataclass
from typing import Any, Literal

RIG_VERSION = 4
"""Raise when anything that changes a flight changes; kept flights of other versions are flown again."""

Kind = Literal[
    "normal", "float", "hard", "bounced", "no_flare", "crabbed", "wing_low", "high", "low", "two_stage",
    "touch_and_go", "rejected", "go_around",
]  # fmt: skip
HALVES = {"tuning": 0, "report": 1}


@dataclass(frozen=True)
class Scenario:
    """One flight: heights ft, speeds kt, angles deg, times s.

    Wind is FROM, relative to the runway, positive from ahead and from the right. `flare_ft` is where the pilot begins
    to raise the nose, by `rise_deg` over `rise_s`; then sink is led towards `end_sink_fpm`. `close_lag_s` is from there
    to the first movement of the lever (None: it is closed only `close_after_contact_s` after contact), `close_s` how
    long it takes.
    """

    half: str
    number: int
    seed: int
    airframe: str
    kind: Kind
    start_ft: float
    slope_pct: float
    headwind_kt: float
    crosswind_kt: float
    turbulence: float
    gust_kt: float
    gust_times: tuple[float, ...]
    path_deg: float
    high_by_ft: float
    aside_ft: float
    over_vref_kt: float
    weight_part: float
    flare_ft: float
    rise_deg: float
    rise_s: float
    end_sink_fpm: float
    lead_gain: float
    close_lag_s: float | None
    close_after_contact_s: float
    close_s: float
    close_stages: int
    thrust_style: Literal["smooth", "steps"]
    decrab: float
    decrab_ft: float
    kick_deg: float
    nose_hold_s: float
    nose_dps: float
    spoilers: bool
    spoiler_s: float
    reverse_s: float | None
    brake: float
    brake_s: float
    go_around_ft: float
    roll_s: float
    log_after_s: float | None
    """Seconds after contact at which the log ends; None: where it has slowed."""

    def as_dict(self) -> dict[str, Any]:
        """The scenario as plain values."""
        return asdict(self)
