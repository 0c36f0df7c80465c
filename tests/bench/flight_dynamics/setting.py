"""The aircraft set on its path in the air of its scenario: a model and a plan in, a model ready to run out.

A sloping runway is flown in a frame tilted with it: there the runway is flat, which the library can do, and gravity has
a part along the runway, W sin(slope), given to the library as an external force at the centre of gravity. Wind that is
level outside has the matching part across the runway surface. `traces` turns all back to earth.
"""

import jsbsim
import numpy as np
from flight_dynamics.airframes import Airframe
from flight_dynamics.cockpit import KT
from flight_dynamics.field import ACROSS, AIM_FT, ALONG, ELEVATION_FT, HEADING_DEG, shifted
from flight_dynamics.scenario import Scenario

RATE_HZ = 240
SETTLE_S = 8.0
"""Flown before the flight's own t = 0, while the controls settle."""


def ready(model: jsbsim.FGFDMExec, plan: Scenario, plane: Airframe) -> tuple[float, float]:
    """Set the model on its path; aiming point, ft, and tangent of the descent, both in the runway's frame."""
    aim, tangent = _path(plan)
    _load(model, plan, plane)
    _place(model, plan, plane, aim_ft=aim, tangent=tangent)
    return aim, tangent


def _path(plan: Scenario) -> tuple[float, float]:
    """Aiming point, ft, and tangent of the descent, both in the runway's frame."""
    tangent = float(np.tan(np.radians(plan.path_deg) + np.arctan(plan.slope_pct / 100.0)))
    return AIM_FT + plan.high_by_ft / tangent, tangent


def _load(model: jsbsim.FGFDMExec, plan: Scenario, plane: Airframe) -> None:
    model.set_dt(1.0 / RATE_HZ)
    model["simulation/randomseed"] = plan.seed % 32000
    model["atmosphere/randomseed"] = plan.seed % 32000
    if plane.jet:
        for tank in range(3 if plane.letter == "A" else 5):
            model[f"propulsion/tank[{tank}]/contents-lbs"] = (0.3 + 0.7 * plan.weight_part) * (
                9000.0 if plane.letter == "A" else 10900.0
            )
    else:
        for person in (1, 2, 3):
            model[f"inertia/pointmass-weight-lbs[{person}]"] = 150.0 * plan.weight_part if person < 3 else 0.0


def _place(model: jsbsim.FGFDMExec, plan: Scenario, plane: Airframe, *, aim_ft: float, tangent: float) -> None:
    """On the path, at the start height, in the air of the scenario."""
    speed = plane.vref_kt + plan.over_vref_kt
    back = (plan.start_ft / np.tan(np.radians(plan.path_deg)) - aim_ft) + SETTLE_S * (speed - plan.headwind_kt) * KT
    lat, lon = (float(degrees) for degrees in shifted(-back, 0.0))
    height = (back + aim_ft) * tangent
    for name, value in {
        "ic/lat-geod-deg": lat,
        "ic/long-gc-deg": lon,
        "ic/terrain-elevation-ft": ELEVATION_FT,
        "ic/h-agl-ft": height,
        "ic/psi-true-deg": HEADING_DEG,
        "ic/vc-kts": speed - plan.headwind_kt * _profile(height),
        "ic/gamma-deg": -np.degrees(np.arctan(tangent)),
        "ic/alpha-deg": plane.pitch_guess_deg + np.degrees(np.arctan(tangent)),
        "gear/gear-cmd-norm": 1.0,
        "gear/gear-pos-norm": 1.0,
        "fcs/flap-cmd-norm": plane.flap,
        "propulsion/magneto_cmd": 3.0,
        "fcs/mixture-cmd-norm": 0.95,
        "propulsion/set-running": -1.0,
        "atmosphere/turb-type": 3.0 if plan.turbulence else 0.0,
        "atmosphere/turbulence/milspec/windspeed_at_20ft_AGL-fps": plan.turbulence * KT,
        "atmosphere/turbulence/milspec/severity": 4.0,
    }.items():
        model[name] = value
    model.run_ic()
    slope = np.arctan(plan.slope_pct / 100.0)
    heading = np.radians(HEADING_DEG)
    weight = model["inertia/weight-lbs"]
    model["external_reactions/slope/x"] = -np.cos(heading) * np.sign(slope)
    model["external_reactions/slope/y"] = -np.sin(heading) * np.sign(slope)
    model["external_reactions/slope/magnitude"] = weight * abs(np.sin(slope))
    for axis in "xyz":
        model[f"external_reactions/slope/location-{axis}-in"] = model[f"inertia/cg-{axis}-in"]


class Air:
    """Mean wind with its profile, and long gusts, set each control step."""

    def __init__(self, model: jsbsim.FGFDMExec, plan: Scenario) -> None:
        self.plan = plan
        manager = model.get_property_manager()
        self.north, self.east, self.down = (
            manager.get_node(f"atmosphere/wind-{a}-fps") for a in ("north", "east", "down")
        )

    def set(self, t: float, h: float) -> None:
        """The air at an instant, s, and a height, ft."""
        plan = self.plan
        profile = _profile(h)
        gust = sum(_bump((t - at) / 4.0) for at in plan.gust_times) * plan.gust_kt
        head, cross = (plan.headwind_kt * profile + gust) * KT, plan.crosswind_kt * profile * KT
        along, right = -head, -cross
        self.north.set_double_value(along * ALONG - right * ACROSS)
        self.east.set_double_value(along * ACROSS + right * ALONG)
        self.down.set_double_value(along * plan.slope_pct / 100.0)


def _profile(h: float) -> float:
    """Wind at a height, ft, as a share of that at 33 ft."""
    return (max(h, 3.0) / 33.0) ** 0.13


def _bump(x: float) -> float:
    return 0.5 - 0.5 * float(np.cos(2.0 * np.pi * x)) if 0.0 < x < 1.0 else 0.0
