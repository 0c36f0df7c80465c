"""The aeroplane's equations: state, controls and air in; the state one step later out. SI, radians, all (lanes,)."""

import numpy as np
from numpy.typing import NDArray

from flows.invented.airframes import Airframe
from flows.invented.plan import Plan
from flows.invented.state import Air, Controls, State
from flows.invented.units import RHO_0, G

Floats = NDArray[np.float64]

GROUND_LIFT = 0.2
"""Most lift gained in ground effect, as a share."""


def ground_share(h: Floats, a: Airframe) -> Floats:
    """Induced drag left in ground effect, 0 to 1.

    McCormick, Aerodynamics, Aeronautics, and Flight Mechanics, chapter on ground effect (from memory).
    """
    ratio = (16.0 / a.span_m * np.maximum(h + a.wing_height_m, 0.2)) ** 2
    return ratio / (1.0 + ratio)


def cushion(h: Floats, a: Airframe) -> Floats:
    """Lift in ground effect against lift far from it at the same angle of attack; the size is our own choice."""
    return 1.0 + GROUND_LIFT * (1.0 - ground_share(h, a))


def needed_alpha(airspeed: Floats, load: Floats | float, plan: Plan) -> Floats:
    """Angle of attack, rad, that carries `load` times the weight at `airspeed`, far from the ground."""
    a = plan.a
    lift = load * plan.mass_kg * G / (0.5 * plan.density_kg_m3 * a.wing_m2 * airspeed**2)
    return (lift - a.lift_0) / a.lift_slope


def trim_lever(plan: Plan) -> Floats:
    """Lever, 0 to 1, that holds the target speed on the path in steady wind."""
    a = plan.a
    pressure = 0.5 * plan.density_kg_m3 * a.wing_m2 * plan.target_ms**2
    lift = plan.mass_kg * G / pressure
    drag = (a.drag_0 + a.drag_induced * lift**2) * pressure
    thrust = drag - plan.mass_kg * G * plan.path * (plan.target_ms - plan.head_ms) / plan.target_ms
    return np.clip((thrust - a.thrust_idle_n) / (a.thrust_full_n - a.thrust_idle_n), 0.02, 1.0)


def gear_force(h: Floats, sink: Floats, a: Airframe) -> Floats:
    """Force of the main legs, m/s2 of the whole mass: hardening spring, damper, never pulling."""
    squeeze = np.maximum(-h, 0.0)
    damper = np.where(sink > 0.0, a.gear_damping, a.gear_rebound) * sink * (squeeze > 0.0)
    return np.maximum(a.gear_linear * squeeze + a.gear_cubic * squeeze**3 + damper, 0.0)


def step(s: State, c: Controls, air: Air, plan: Plan, *, dt: float, wheels: bool) -> None:
    """Move `s` on by `dt`, in place; with `wheels` false there is no ground to stand on."""
    a = plan.a
    ua, wa = s.u + air.head, s.w - air.up
    s.airspeed = np.sqrt(ua**2 + wa**2)
    slope_air = wa / np.maximum(ua, 5.0)
    s.alpha = s.theta - slope_air * (1.0 - slope_air**2 / 3.0)
    share = ground_share(s.h, a)
    pressure = 0.5 * plan.density_kg_m3 * a.wing_m2 * s.airspeed**2 / plan.mass_kg
    coefficient = np.minimum(a.lift_0 * (1.0 - 0.25 * c.clean) + a.lift_slope * s.alpha, a.lift_max)
    coefficient *= (1.0 + GROUND_LIFT * (1.0 - share)) * (1.0 - a.spoiler_lift * c.spoiler)
    lift = coefficient * pressure
    drag = pressure * (a.drag_0 * (1.0 - 0.45 * c.clean) + a.drag_induced * share * coefficient**2 + 0.06 * c.spoiler)
    s.thrust += (c.lever - s.thrust) * dt / np.where(c.lever > s.thrust, a.spool_up_s, a.spool_down_s)
    push = (a.thrust_idle_n + (a.thrust_full_n - a.thrust_idle_n) * s.thrust - a.reverse_n * c.reverse) / plan.mass_kg
    grip = _legs(s, c, dt=dt, a=a) if wheels else np.zeros_like(s.u)
    climb = slope_air
    s.nz = (lift + drag * s.alpha + s.gear) / G
    s.ax = (push - drag + lift * s.alpha - grip) / G
    s.u += (push - drag - lift * climb - grip - s.gear * plan.slope) * dt
    s.w += (lift - drag * climb + push * s.theta + s.gear - G) * dt
    _attitude(s, c, share, a=a, dt=dt, push=push)
    _across(s, c, air, dt=dt)
    np.maximum(s.u, 0.5, out=s.u)
    s.x += s.u * dt
    s.z += s.w * dt
    s.h = s.z - a.mains_behind_m * s.theta - plan.slope * s.x
    s.sink = plan.slope * s.u + a.mains_behind_m * s.q - s.w
    s.vs_lagged += (s.w - s.vs_lagged) * dt / plan.vs_lag_s


def _legs(s: State, c: Controls, *, dt: float, a: Airframe) -> Floats:
    """Update the legs' force; the deceleration from the tyres, m/s2."""
    s.gear += (gear_force(s.h, s.sink, a) - s.gear) * min(dt / a.gear_rise_s, 1.0)
    down = s.h < 0.0
    friction = np.where(s.spin < 1.0, 0.4, 0.02 + 0.38 * c.brake)
    s.spin = np.minimum(s.spin + down * dt / 0.12, 1.0)
    return friction * s.gear * (s.u > 1.0)


def _attitude(s: State, c: Controls, share: Floats, *, a: Airframe, dt: float, push: Floats) -> None:
    """Pitch as a second-order answer to the attitude asked for, disturbed by thrust, ground effect and the legs."""
    disturbed = a.thrust_pitch * (push / G - s.trim) - a.ground_pitch * (1.0 - share) - 0.01 * s.gear / G
    s.q += (a.pitch_rad_s**2 * (c.theta + disturbed - s.theta) - 2.0 * a.pitch_damping * a.pitch_rad_s * s.q) * dt
    s.theta += s.q * dt
    flat = (s.theta < a.rest_pitch) & (s.h < 0.0)
    s.theta = np.where(flat, a.rest_pitch, s.theta)
    s.q = np.where(flat, 0.0, s.q)


def _across(s: State, c: Controls, air: Air, *, dt: float) -> None:
    """Roll, heading and drift: side force from bank and sideslip, tyres that roll where they point."""
    s.p += (4.0 * (c.phi - s.phi) - 3.4 * s.p) * dt
    s.phi += s.p * dt
    loaded = np.minimum(s.gear / G, 1.0)
    slip = (s.v + air.right) / np.maximum(s.u + air.head, 15.0) - s.psi
    tyre = 6.0 * loaded * (s.psi * s.u - s.v)
    s.ay = (-0.12 * s.u * slip + tyre) / G
    s.v += (G * s.phi * (1.0 - loaded) + s.ay * G) * dt
    s.psi += (c.psi - s.psi) * dt / 0.9
    s.phi *= 1.0 - loaded * min(3.0 * dt, 1.0)
    s.y += s.v * dt


def density(elevation_m: float, warmer_k: float) -> float:
    """Air density, kg/m3, of the standard troposphere (ICAO Doc 7488) made `warmer_k` warmer at the same pressure."""
    standard = 288.15 - 0.0065 * elevation_m
    pressure_ratio = (standard / 288.15) ** 5.25588
    return RHO_0 * pressure_ratio * 288.15 / (standard + warmer_k)
