"""The hands: attitude, bank and alignment wanted in, elevator, aileron and rudder out.

Proportional-and-rate laws of stated bandwidth on the airframe's control power, with slow trim.
"""

from dataclasses import dataclass

import numpy as np
from flight_dynamics.airframes import Airframe
from flight_dynamics.cockpit import STEP_S, G, Seen
from flight_dynamics.scenario import Scenario

_STALL_RAD = 0.17
"""Greatest angle of attack the pilot asks for."""


@dataclass
class Elevator:
    """Leads pitch to the attitude wanted; `trim` is the slow part of the command."""

    plane: Airframe
    trim: float
    wanted_was: float
    _rate: float = 0.0

    def act(self, s: Seen, theta_c: float) -> float:
        """Elevator command for the attitude `theta_c`, rad."""
        w = self.plane.attitude_bandwidth
        power = self.plane.pitch_power * max(s.qbar, 3.0)
        error = min(theta_c, _highest(s)) - s.theta
        if s.nose and s.mains:
            self.trim *= 1.0 - 0.3 * STEP_S
        else:
            self.trim = float(np.clip(self.trim - 0.4 * w**3 * error / power * STEP_S, -1.0, 1.0))
        self._rate += ((theta_c - self.wanted_was) / STEP_S - self._rate) * STEP_S / 0.15
        self.wanted_was = theta_c
        rate = 0.0 if s.mains else self._rate
        return float(np.clip(self.trim - (w**2 * error - 1.5 * w * (s.q - rate)) / power, -1.0, 1.0))


def _highest(s: Seen) -> float:
    """Greatest attitude that stays clear of the stall, rad."""
    return _STALL_RAD + float(np.arctan(s.climb / max(s.forward, 30.0))) if not s.mains else 1.0


@dataclass
class Lateral:
    """Holds the centreline by bank; below a height lines the nose up with the runway, as far as the scenario says."""

    plan: Scenario
    plane: Airframe
    _roll_i: float = 0.0
    _side_i: float = 0.0

    def act(self, s: Seen) -> tuple[float, float]:
        """Aileron and rudder commands."""
        return self._aileron(s, self._bank(s)), self._rudder(s)

    def _bank(self, s: Seen) -> float:
        plan = self.plan
        drift = float(np.clip(-0.05 * (s.y - plan.aside_ft), -14.0, 14.0)) - s.right
        limit = 0.35 if s.h > 100.0 else 0.14 if s.h > 15.0 else 0.09
        if s.h > 60.0:
            off = float(np.clip(s.y - plan.aside_ft, -60.0, 60.0))
            self._side_i = float(np.clip(self._side_i - 0.0001 * off * STEP_S, -0.06, 0.06))
        return 0.0 if s.mains else float(np.clip(0.60 * drift / G + self._side_i, -limit, limit))

    def _aileron(self, s: Seen, phi_c: float) -> float:
        w = 1.5 if self.plane.jet else 2.2
        self._roll_i += 0.0 if s.mains else 0.25 * w**3 * (phi_c - s.phi) * STEP_S
        self._roll_i = float(np.clip(self._roll_i, -0.4, 0.4))
        roll = w**2 * (phi_c - s.phi) - 1.4 * w * s.p + self._roll_i
        return float(np.clip(roll / (self.plane.roll_power * max(s.qbar, 3.0)), -1.0, 1.0))

    def _rudder(self, s: Seen) -> float:
        plan = self.plan
        w = 1.0 if self.plane.jet else 1.8
        if s.mains:
            goal = float(np.clip(-0.004 * s.y - 0.01 * s.right, -0.1, 0.1)) if s.nose else 0.0
            yaw = w**2 * 1.5 * (goal - s.psi) - 2.0 * w * s.r
        elif s.h < plan.decrab_ft and plan.decrab > 0.0:
            yaw = w**2 * plan.decrab * (0.0 - s.psi) - 1.6 * w * s.r
        else:
            yaw = -0.4 * w * (s.r - G * s.phi / max(s.forward, 50.0))
        return float(np.clip(-yaw / (self.plane.yaw_power * max(s.qbar, 3.0)), -1.0, 1.0))
