"""One scenario in, its flight at 240 Hz out, as the flight dynamics library computes it.

The frame is the runway's, tilted with its slope (see `setting`).
"""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import jsbsim
import numpy as np
from flight_dynamics.airframes import AIRFRAMES, Airframe
from flight_dynamics.cockpit import KT, Events, Orders, Seen
from flight_dynamics.field import HEADING_DEG, along_right, turned
from flight_dynamics.models import fdm
from flight_dynamics.pilot import Pilot
from flight_dynamics.scenario import Scenario
from flight_dynamics.setting import RATE_HZ, SETTLE_S, Air, ready
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_CONTROL_EVERY = 4
_LONGEST_S = 330.0

_NODES = {
    "lat": "position/lat-geod-deg",
    "lon": "position/long-gc-deg",
    "cg_h": "position/h-agl-ft",
    "theta": "attitude/theta-rad",
    "phi": "attitude/phi-rad",
    "psi": "attitude/psi-rad",
    "north": "velocities/v-north-fps",
    "east": "velocities/v-east-fps",
    "down": "velocities/v-down-fps",
    "p": "velocities/p-rad_sec",
    "q": "velocities/q-rad_sec",
    "r": "velocities/r-rad_sec",
    "nx": "accelerations/Nx",
    "ny": "accelerations/Ny",
    "nz": "accelerations/Nz",
    "nose_agl": "gear/unit[0]/AGL-ft",
    "left_agl": "gear/unit[1]/AGL-ft",
    "right_agl": "gear/unit[2]/AGL-ft",
    "nose_in": "gear/unit[0]/compression-ft",
    "left_in": "gear/unit[1]/compression-ft",
    "right_in": "gear/unit[2]/compression-ft",
    "speed_kt": "velocities/vc-kts",
    "qbar": "aero/qbar-psf",
    "fuel_pps": "propulsion/engine[0]/fuel-flow-rate-pps",
    "wind_n": "atmosphere/total-wind-north-fps",
    "wind_e": "atmosphere/total-wind-east-fps",
    "cg_x": "inertia/cg-x-in",
    "cg_z": "inertia/cg-z-in",
}
_EXTRA = ("engine", "lever", "brake", "spoiler", "flap")


@dataclass(frozen=True)
class Flight:
    """Raw columns (n,) at 240 Hz by name, in the library's frame and units, and the pilot's instants."""

    columns: dict[str, Floats]
    events: dict[str, float]
    weight_lb: float
    main_x_in: float
    main_z_in: float


def fly(plan: Scenario, folder: Path) -> Flight:
    """Fly one scenario; `folder` holds the edited models."""
    plane = AIRFRAMES[plan.airframe]
    model = fdm(plan.airframe, folder)
    pilot = Pilot(plan, plane, *ready(model, plan, plane))
    rows = list(_steps(model, plan, plane, pilot))
    table = np.array(rows)
    names = (*_NODES, *_EXTRA)
    skip = int(SETTLE_S * RATE_HZ)
    columns = {name: table[skip:, i] for i, name in enumerate(names)}
    events = {name: value - SETTLE_S for name, value in asdict(pilot.events).items()}
    main = (model["gear/unit[1]/x-position"], model["gear/unit[1]/z-position"])
    return Flight(columns, events, model["inertia/weight-lbs"], *main)


class _Hands:
    """The commands' property nodes."""

    def __init__(self, model: jsbsim.FGFDMExec, plane: Airframe) -> None:
        node = model.get_property_manager().get_node
        self.plane = plane
        self.elevator = node("fcs/elevator-cmd-norm")
        self.aileron = node("fcs/aileron-cmd-norm")
        self.rudder = node("fcs/rudder-cmd-norm")
        self.steer = node("fcs/steer-cmd-norm")
        self.throttle = [node(f"fcs/throttle-cmd-norm[{i}]") for i in range(plane.engines)]
        self.reverse = [node(f"propulsion/engine[{i}]/reverser-angle-rad") for i in range(plane.engines * plane.jet)]
        self.brakes = [node(f"fcs/{side}-brake-cmd-norm") for side in ("left", "right")]
        self.spoilers = [node("fcs/speedbrake-cmd-norm"), node("fcs/spoiler-cmd-norm")] if plane.jet else []

    def set(self, orders: Orders) -> None:
        self.elevator.set_double_value(orders.elevator)
        self.aileron.set_double_value(orders.aileron)
        self.rudder.set_double_value(orders.rudder)
        self.steer.set_double_value(-0.05 * orders.rudder)
        for throttle in self.throttle:
            throttle.set_double_value(abs(orders.lever))
        for reverse in self.reverse:
            reverse.set_double_value(2.3 if orders.lever < 0.0 else 0.0)
        for brake in self.brakes:
            brake.set_double_value(orders.brake)
        for spoiler in self.spoilers:
            spoiler.set_double_value(orders.spoiler)


def _steps(model: jsbsim.FGFDMExec, plan: Scenario, plane: Airframe, pilot: Pilot) -> Iterator[list[float]]:
    """Run the model to the flight's end; each step's row."""
    manager = model.get_property_manager()
    nodes = [manager.get_node(name) for name in _NODES.values()]
    engine = manager.get_node("propulsion/engine[0]/n1" if plane.jet else "propulsion/engine[0]/propeller-rpm")
    flap = manager.get_node("fcs/flap-pos-norm")
    air, hands, orders = Air(model, plan), _Hands(model, plane), Orders()
    for step in range(int(_LONGEST_S * RATE_HZ)):
        row = [node.get_double_value() for node in nodes]
        if step % _CONTROL_EVERY == 0:
            seen = _seen(step / RATE_HZ, row)
            air.set(seen.t, seen.h)
            orders = pilot.act(seen)
            hands.set(orders)
            if _over(seen, plan, pilot.events, slowed_kt=plane.slowed_kt):
                return
        lever = orders.lever
        yield [*row, engine.get_double_value(), lever, orders.brake, orders.spoiler, flap.get_double_value()]
        model.run()


_INDEX = {name: i for i, name in enumerate(_NODES)}


def _seen(t: float, row: list[float]) -> Seen:
    def of(name: str) -> float:
        return row[_INDEX[name]]

    x, y = along_right(of("lat"), of("lon"))
    forward, right = turned(of("north"), of("east"))
    psi = (of("psi") - np.radians(HEADING_DEG) + np.pi) % (2.0 * np.pi) - np.pi
    return Seen(
        t=t,
        x=float(x),
        y=float(y),
        h=0.5 * (of("left_agl") - of("left_in") + of("right_agl") - of("right_in")),
        climb=-of("down"),
        forward=float(forward),
        right=float(right),
        theta=of("theta"),
        phi=of("phi"),
        psi=float(psi),
        q=of("q"),
        p=of("p"),
        r=of("r"),
        speed_kt=of("speed_kt"),
        qbar=of("qbar"),
        mains=of("left_in") > 0.0 or of("right_in") > 0.0,
        nose=of("nose_in") > 0.0,
    )


def _over(s: Seen, plan: Scenario, e: Events, *, slowed_kt: float) -> bool:
    """Whether the flight has reached its end: slowed, cut short, or climbed away."""
    if not np.isnan(e.go):
        return s.h > 350.0 + (plan.go_around_ft if plan.kind == "go_around" else 0.0) or s.t - e.go > 45.0
    if np.isnan(e.contact):
        return False
    if plan.log_after_s is not None and s.t - e.contact > plan.log_after_s:
        return True
    return s.mains and (s.forward / KT < slowed_kt or s.t - e.contact > 75.0)
