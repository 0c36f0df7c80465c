"""The rig's own pilot: what is seen each control step in, elevator, aileron, rudder and levers out.

Path and centreline on the approach; a flare that raises the nose by a chosen amount and then leads the sink to a chosen
end; a hold, a nose lowering, and the way out: rollout, touch-and-go or go-around. Nothing of it knows how landings are
measured.
"""

from dataclasses import dataclass, field

import numpy as np
from flight_dynamics.airframes import Airframe
from flight_dynamics.cockpit import STEP_S, Events, Orders, Seen, moved
from flight_dynamics.hands import Elevator, Lateral
from flight_dynamics.levers import Levers
from flight_dynamics.scenario import Scenario


@dataclass
class Pilot:
    """State of the pilot over one flight; `aim_ft` and `tangent` are of the path in the runway's frame."""

    plan: Scenario
    plane: Airframe
    aim_ft: float
    tangent: float
    events: Events = field(default_factory=Events)
    _line: float = 0.0
    _lead: float = 0.0
    _lead_i: float = 0.0
    _flare_sink: float = 0.0
    _flare_h: float = 0.0
    _hold: float = 0.0
    _bend: float = 0.0
    _climb_was: float = 0.0

    def __post_init__(self) -> None:
        """Begin with the attitude, elevator and lever guessed for the path."""
        plane = self.plane
        self.theta_c = self._path_i = float(np.radians(plane.pitch_guess_deg))
        self._elevator = Elevator(plane, plane.elevator_guess, self.theta_c)
        self._lateral = Lateral(self.plan, plane)
        self._levers = Levers(self.plan, plane, self.events, plane.lever_guess, plane.lever_guess)

    def act(self, s: Seen) -> Orders:
        """Commands for the next control step."""
        e = self.events
        if s.mains and np.isnan(e.contact):
            e.contact, self._hold = s.t, s.theta
        self._decide_go(s)
        self._lead_attitude(s)
        orders = Orders(elevator=self._elevator.act(s, self.theta_c), lever=self._levers.act(s))
        orders.aileron, orders.rudder = self._lateral.act(s)
        if not np.isnan(e.contact) and np.isnan(e.go):
            orders.brake, orders.spoiler = self._levers.slow(s)
        return orders

    def _decide_go(self, s: Seen) -> None:
        e, kind = self.events, self.plan.kind
        if not np.isnan(e.go):
            return
        rolled = not np.isnan(e.contact) and s.t - e.contact > self.plan.roll_s
        if (kind in ("touch_and_go", "rejected") and rolled) or (kind == "go_around" and s.h < self.plan.go_around_ft):
            e.go = s.t

    def _lead_attitude(self, s: Seen) -> None:
        e = self.events
        self._bend += ((s.climb - self._climb_was) / STEP_S - self._bend) * STEP_S / 0.3
        self._climb_was = s.climb
        if not np.isnan(e.go):
            self._climb_out(s)
        elif not np.isnan(e.contact):
            self._after_contact(s)
        elif not np.isnan(e.flare) or s.h <= self.plan.flare_ft:
            self._flare(s)
        else:
            self._approach(s)

    def _approach(self, s: Seen) -> None:
        error = float(np.clip(s.h - (self.aim_ft - s.x) * self.tangent, -60.0, 60.0))
        if s.x > self.aim_ft - 1200.0:
            error = 0.0
        slow = max(self.plane.vref_kt + self.plan.over_vref_kt - 5.0 - s.speed_kt, 0.0)
        wanted = -s.forward * self.tangent - 0.12 * error - 0.6 * slow
        gamma = np.clip((wanted - s.climb) / s.forward, -0.06, 0.06)
        self._path_i += 0.22 * gamma * STEP_S
        self.theta_c = moved(self.theta_c, self._path_i + 0.7 * gamma, down=0.03, up=0.03)

    def _flare(self, s: Seen) -> None:
        e, plan = self.events, self.plan
        if np.isnan(e.flare):
            e.flare, self._line = s.t, self.theta_c
            self._flare_sink, self._flare_h = max(-s.climb, 1.0), max(s.h, 1.0)
            e.rise_end = s.t + plan.rise_s
        since = s.t - e.flare
        end = plan.end_sink_fpm / 60.0
        part = np.clip((s.h + 0.9 * s.climb) / self._flare_h, 0.0, 1.0)
        wanted = -(end + (self._flare_sink - end) * part**1.2)
        lag = np.clip((wanted - self._soon(s)) / s.forward, -0.03, 0.035)
        gate = np.clip((since - 0.4 * plan.rise_s) / 1.0, 0.0, 1.0)
        self._lead_i += (0.6 * plan.lead_gain * gate * lag + self._stage(since)) * STEP_S
        lead = self._lead_i + 0.9 * plan.lead_gain * gate * lag
        self._lead = float(np.clip(self._lead + (lead - self._lead) * STEP_S / 0.35, -0.06, 0.14))
        self.theta_c = self._line + np.radians(plan.rise_deg) * _ramp(since / plan.rise_s) + self._lead

    def _soon(self, s: Seen) -> float:
        """Climb to be expected when the attitude will have answered, ft/s."""
        return s.climb + float(np.clip(1.6 / self.plane.attitude_bandwidth * self._bend, -5.0, 5.0))

    def _stage(self, since: float) -> float:
        """Rate of a second, later rotation in two-stage flares, rad/s."""
        start = self.plan.rise_s + 1.2
        second = self.plan.kind == "two_stage" and start < since < start + 1.5
        return float(np.radians(1.0)) if second else 0.0

    def _after_contact(self, s: Seen) -> None:
        e, plan = self.events, self.plan
        since = s.t - e.contact
        kicked = plan.kind == "bounced" and since < 2.0
        if not s.mains and not kicked and s.h > 0.3:
            self.theta_c += float(np.clip((-3.0 - self._soon(s)) / s.forward, -0.03, 0.03)) * STEP_S
            self._hold = self.theta_c
            return
        if np.isnan(e.nose_lowering) and since > max(plan.nose_hold_s, 2.0 if kicked else 0.0) and s.mains:
            e.nose_lowering = s.t
        up = np.radians(plan.kick_deg) if since < 0.9 else 0.0
        if not kicked and s.mains:
            self._hold -= 0.006 * STEP_S
        holding = np.isnan(e.nose_lowering)
        goal = self.theta_c if s.nose else self._hold + up if holding else -0.1
        rate = np.radians(plan.nose_dps) if not holding else 0.07 if kicked else 0.03
        self.theta_c = moved(self.theta_c, goal, down=rate, up=rate)

    def _climb_out(self, s: Seen) -> None:
        up = np.radians(9.0 if self.plane.jet else 6.0)
        slow = s.mains and s.speed_kt < self.plane.vref_kt - (12.0 if self.plane.jet else 8.0)
        self.theta_c = moved(self.theta_c, min(up, 0.03) if slow else up, down=0.04, up=0.045)


def _ramp(x: float) -> float:
    """Smooth step from 0 to 1 over x in [0, 1]."""
    return 0.5 - 0.5 * float(np.cos(np.pi * min(max(x, 0.0), 1.0)))
