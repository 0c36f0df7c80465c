"""The levers: speed held on the approach, closed at the scenario's moment, opened again on a go-around; reverse.

Also brakes and spoilers of the rollout.
"""

from dataclasses import dataclass

import numpy as np
from flight_dynamics.airframes import Airframe
from flight_dynamics.cockpit import STEP_S, Events, Seen, moved
from flight_dynamics.scenario import Scenario

_STAGE_S = 1.8
"""How long the first of two stages of closing waits."""


@dataclass
class Levers:
    """Thrust lever 0 to 1, negative in reverse; moments go into `events`."""

    plan: Scenario
    plane: Airframe
    events: Events
    lever: float
    _speed_i: float
    _at: float = 0.0
    _goal: float = 0.0
    _next: float = 0.0
    _speed_was: float = 0.0
    _trend: float = 0.0
    _first: float = np.nan

    def act(self, s: Seen) -> float:
        """Lever command."""
        e = self.events
        if not np.isnan(e.go):
            self.lever = moved(self.lever, 0.9 if self.plane.jet else 1.0, down=1.0, up=0.5)
            return self.lever
        if np.isnan(e.close):
            self._begin_closing(s)
            return self.lever
        since = (s.t - e.close) / self.plan.close_s
        self.lever = self._at * (1.0 - float(np.clip(since, 0.0, 1.0)))
        return self._reverse(s) if since >= 1.0 else self.lever

    def _begin_closing(self, s: Seen) -> None:
        """Hold speed until the closing begins; of two stages the first takes a part off and waits."""
        e, plan = self.events, self.plan
        if np.isnan(self._first):
            self._hold_speed(s)
            if self._closes(s):
                self._first, self._at = s.t, self.lever
        wait = _STAGE_S if plan.close_stages == 2 else 0.0
        if s.t - self._first < wait:
            self.lever = self._at * (1.0 - 0.35 * float(np.clip((s.t - self._first) / 0.6, 0.0, 1.0)))
        elif not np.isnan(self._first):
            e.close, self._at = s.t, self.lever
            e.idle = s.t + plan.close_s

    def _closes(self, s: Seen) -> bool:
        e, plan = self.events, self.plan
        if not np.isnan(e.contact):
            return s.t - e.contact > (plan.close_after_contact_s if plan.close_lag_s is None else 0.2)
        if plan.close_lag_s is None or plan.kind == "go_around":
            return False
        if plan.close_lag_s < 0.0 or not plan.flare_ft:
            before = max(-s.climb, 0.0) * -min(plan.close_lag_s, 0.0)
            return s.h <= (plan.flare_ft or 12.0) + before
        return not np.isnan(e.flare) and s.t - e.flare >= plan.close_lag_s

    def _hold_speed(self, s: Seen) -> None:
        trend = (s.speed_kt - self._speed_was) / STEP_S if self._speed_was else 0.0
        self._speed_was = s.speed_kt
        self._trend += (trend - self._trend) * STEP_S / 2.0
        if not np.isnan(self.events.flare) or s.h < 0.8 * self.plan.flare_ft:
            return
        error = self.plane.vref_kt + self.plan.over_vref_kt - s.speed_kt - 3.0 * self._trend
        quick = 1.0 if self.plane.jet else 2.0
        self._speed_i = float(np.clip(self._speed_i + 0.0035 * quick * error * STEP_S, 0.08, 0.9))
        goal = float(np.clip(self._speed_i + 0.02 * quick * error, 0.06, 0.85))
        if self.plan.thrust_style == "steps":
            goal = self._step(s, goal)
        self.lever = moved(self.lever, goal, down=0.15, up=0.15)

    def _step(self, s: Seen, goal: float) -> float:
        """A hand that corrects now and then, not all the time."""
        if s.t >= self._next:
            self._next = s.t + 2.5
            self._goal = goal if abs(goal - self.lever) > 0.02 else self.lever
        return self._goal

    def _reverse(self, s: Seen) -> float:
        e, plan = self.events, self.plan
        stays = plan.kind not in ("touch_and_go", "rejected")
        if not self.plane.jet or plan.reverse_s is None or np.isnan(e.contact) or not stays:
            return 0.0
        if s.t - e.contact < plan.reverse_s or (np.isnan(e.reverse) and not s.mains):
            return 0.0
        if np.isnan(e.reverse):
            e.reverse = s.t
        return -0.6 * float(np.clip((s.t - e.reverse) / 1.5, 0.0, 1.0))

    def slow(self, s: Seen) -> tuple[float, float]:
        """Brake and spoiler commands in the rollout."""
        e, plan = self.events, self.plan
        since = s.t - e.contact
        if np.isnan(e.spoiler) and plan.spoilers and since > plan.spoiler_s and s.mains and self.lever < 0.1:
            e.spoiler = s.t
        if np.isnan(e.brake) and since > plan.brake_s and s.nose:
            e.brake = s.t
        stay = plan.kind in ("touch_and_go", "rejected")
        brake = 0.0 if np.isnan(e.brake) or stay else plan.brake * float(np.clip((s.t - e.brake) / 1.5, 0.0, 1.0))
        return brake, 0.0 if np.isnan(e.spoiler) else 1.0
