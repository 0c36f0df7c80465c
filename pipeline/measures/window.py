"""The aligned samples of a batch of landings: every channel on three grids of time to contact.

Goes in: stacked logs and the anchor of each landing. Comes out: one window that every measure reads.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from pipeline.stack import Stack, gather

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

FINE = np.arange(-24.0, 8.0 + 1e-9, 1.0 / 16.0)
"""Time to contact of the flare and contact grid, s (m,)."""
COARSE = np.arange(-200.0, 10.0 + 1e-9, 0.25)
"""Time to contact of the approach grid, s (k,)."""
ROLL = np.arange(-5.0, 75.0 + 1e-9, 0.25)
"""Time to contact of the rollout grid, s (r,)."""
KT_FPS = 1852.0 / 0.3048 / 3600.0
"""Feet a second in a knot."""
G_FPS2 = 9.80665 / 0.3048
"""Standard gravity, ft/s2."""

_TIMING = ("radio_height_ft", "normal_accel_g", "main_on_ground")
"""What times a contact: where one of them is not to be believed, that is why nothing does."""


@dataclass(frozen=True)
class Reference:
    """What is known of each landing beside its log, (n,) each, NaN where unknown.

    Runway values are of the landing threshold; `length_ft` is the landing distance available, `slope_pct` positive
    uphill, `design_height_ft` the crossing height of its glide path, `glidepath_deg` its angle,
    `airport_elevation_ft` the airport's, `localiser_ft` from threshold to antenna;
    `target_kt` is a stated target speed. Wind is the manifest's or the weather report's: `wind_variable` where it is
    light and from no settled side, `gust_unreported` where the report gives a wind and no gust, `pressure_hpa` its
    sea-level pressure.
    `idle_at_gate_pct`, `antenna_ahead_ft`, `flap_deg`, `wheel_track_ft`, `tail_pitch_deg`
    (pitch at which the tail touches) come from the type.
    """

    vref_kt: Floats
    target_kt: Floats
    wind_from_deg: Floats
    wind_speed_kt: Floats
    wind_from_u_deg: Floats
    wind_variable: Bools
    gust_spread_kt: Floats
    gust_unreported: Bools
    pressure_hpa: Floats
    threshold_lat: Floats
    threshold_lon: Floats
    runway_heading_deg: Floats
    length_ft: Floats
    slope_pct: Floats
    aim_point_ft: Floats
    elevation_ft: Floats
    airport_elevation_ft: Floats
    design_height_ft: Floats
    glidepath_deg: Floats
    localiser_ft: Floats
    weight_kg: Floats
    flap_deg: Floats
    idle_at_gate_pct: Floats
    antenna_ahead_ft: Floats
    lever_follows_thrust: Bools
    wheel_track_ft: Floats
    tail_pitch_deg: Floats


@dataclass
class Window:
    """Samples of n landings about their anchors.

    `fine(channel)` (n, m), `coarse(channel)` (n, k) and `roll(channel)` (n, r) are in the channel's unit, NaN where the
    log has none; angles are unwrapped. `grounded` (n,): the wheels touched at or near the anchor; `timed` (n,): and the
    instant is known to `contact_u_s` (n,).
    """

    stack: Stack
    log: Ints
    anchor_s: Floats
    grounded: Bools
    timed: Bools
    contact_u_s: Floats
    reference: Reference
    _fine: dict[str, Floats] = field(default_factory=dict)
    _coarse: dict[str, Floats] = field(default_factory=dict)
    _roll: dict[str, Floats] = field(default_factory=dict)

    @property
    def n(self) -> int:
        """Number of landings."""
        return len(self.log)

    @property
    def no_contact(self) -> tuple[tuple[Bools, str], ...]:
        """Why what is told from the instant of contact is null: none, or nothing times it, or nothing believed."""
        untimed = self.grounded & ~self.timed
        suspect = np.any([self.suspect(channel) for channel in _TIMING], axis=0)
        return ((~self.grounded, "not_reached"), (untimed & suspect, "implausible"), (untimed, "untimed"))

    def fine(self, channel: str) -> Floats:
        """Channel on the fine grid, (n, m)."""
        if channel not in self._fine:
            self._fine[channel] = gather(self.stack, channel, self.log, self.anchor_s[:, None] + FINE)
        return self._fine[channel]

    def coarse(self, channel: str) -> Floats:
        """Channel on the coarse grid, (n, k)."""
        if channel not in self._coarse:
            self._coarse[channel] = gather(self.stack, channel, self.log, self.anchor_s[:, None] + COARSE)
        return self._coarse[channel]

    def roll(self, channel: str) -> Floats:
        """Channel on the rollout grid, (n, r)."""
        if channel not in self._roll:
            self._roll[channel] = gather(self.stack, channel, self.log, self.anchor_s[:, None] + ROLL)
        return self._roll[channel]

    def only(self, which: Ints) -> "Window":
        """The landings at the places `which` (k,), as a window of their own."""
        facts = {name: value[which] for name, value in vars(self.reference).items()}
        per_landing = ("log", "anchor_s", "grounded", "timed", "contact_u_s")
        some = {name: getattr(self, name)[which] for name in per_landing}
        return Window(self.stack, **some, reference=Reference(**facts))

    def moved(self, offset_s: Floats, contact_u_s: Floats) -> "Window":
        """The same landings about anchors moved by `offset_s` (n,), the contact known to `contact_u_s` (n,)."""
        return Window(
            self.stack, self.log, self.anchor_s + offset_s, self.grounded, self.timed, contact_u_s, self.reference
        )

    def interval_s(self, channel: str) -> Floats:
        """Median sample interval of a channel, (n,) s; infinite where the log has none."""
        return self._fact(channel, "interval_s", np.inf)

    def resolution(self, channel: str) -> Floats:
        """Smallest step of a channel, (n,), its unit; 0 where the log has none."""
        return self._fact(channel, "resolution", 0.0)

    def noise(self, channel: str) -> Floats:
        """Standard deviation of single samples of a channel, (n,), its unit; 0 where the log has none."""
        return self._fact(channel, "noise", 0.0)

    def lacks(self, channel: str) -> Bools:
        """Whether the log of each landing has no such channel, (n,)."""
        return ~np.isfinite(self.interval_s(channel))

    def suspect(self, channel: str) -> Bools:
        """Whether the log of each landing had such a channel that is not to be believed, (n,)."""
        wrong = self.stack.suspect.get(channel)
        return np.zeros(self.n, dtype=bool) if wrong is None else wrong[self.log]

    def without(self, *channels: str) -> tuple[tuple[Bools, str], ...]:
        """Why what rests on all of some channels is null without one: it was not to be believed, or never recorded."""
        return self.lacking(np.any([self.lacks(channel) for channel in channels], axis=0), *channels)

    def lacking(self, where: Bools, *channels: str) -> tuple[tuple[Bools, str], ...]:
        """Why what rests on `channels` is null where `where` (n,) says that too few of them are there."""
        suspect = np.any([self.suspect(channel) for channel in channels], axis=0)
        return ((where & suspect, "implausible"), (where, "no_channel"))

    def slower_than(self, channel: str, interval_s: float) -> Bools:
        """Whether a channel is there but sampled more slowly than every `interval_s`, (n,)."""
        interval = self.interval_s(channel)
        return np.isfinite(interval) & (interval > interval_s * 1.01)

    def _fact(self, channel: str, fact: str, absent: float) -> Floats:
        if channel not in self.stack.channels:
            return np.full(self.n, absent)
        value = getattr(self.stack.channels[channel], fact)[self.log]
        return np.where(np.isfinite(value), value, absent)


def between(grid: Floats, low_s: float, high_s: float) -> slice:
    """Slice of a uniform grid from `low_s` to `high_s`, both included."""
    return slice(int(np.searchsorted(grid, low_s - 1e-9)), int(np.searchsorted(grid, high_s + 1e-9)))


def smooth(x: Floats, width_s: float, step_s: float) -> Floats:
    """Centred running mean of each row over `width_s`, gaps left out; NaN where under half the samples are there."""
    half = max(int(round(width_s / step_s / 2.0)), 1)
    held = np.isfinite(x)
    total = np.cumsum(np.pad(np.where(held, x, 0.0), ((0, 0), (half + 1, half))), axis=1)
    number = np.cumsum(np.pad(held.astype(float), ((0, 0), (half + 1, half))), axis=1)
    width = 2 * half + 1
    kept = number[:, width:] - number[:, :-width]
    reach = np.minimum(np.arange(x.shape[1]), half) + np.minimum(np.arange(x.shape[1])[::-1], half) + 1
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(kept >= 0.5 * reach, (total[:, width:] - total[:, :-width]) / kept, np.nan)


def slope(x: Floats, step_s: float) -> Floats:
    """Rate of change of each row, a second; central differences, NaN where a neighbour is missing."""
    return np.gradient(x, step_s, axis=1)
