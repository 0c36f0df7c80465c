"""The three airframes: a letter in, a flight dynamics model ready to fly out; the only place that knows model files.

What is changed in a temporary copy of the shipped model, and why:

- Gear of all three. The shipped struts are linear, with damping far beyond critical (light and large one) or with its
  full force in the first instant of contact, which no tyre lets through. Each strut becomes a hardening spring and an
  orifice damper, about 0.3 of critical at 8 ft/s, three times that in rebound; the damper takes hold over the first
  tenths of a foot, as it does behind a tyre. Sag and frequency are those of the landing weight.
- B: main wheels 11 ft further forward (as shipped, the weight behind them throws the nose down at contact); flap lift
  halved (as shipped, it approaches nose down); the ground effect of A, since it ships with none; twice the rudder.
- A: a fifth less flap lift (as shipped, it touches nose wheel first when fast); half as much elevator again (as
  shipped, trim takes more than half of it).
- C: the nose wheel 5.5 inches higher (as shipped, it touches first up to 3.5 deg nose up).
- All: flaps stand where they are told at once, because a flight begins with them set; attitude is stabilised by the
  rig's own pilot; an external force along the runway is declared, by which a slope is flown (see `setting`).
"""

import copy
import tempfile
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import jsbsim
from flight_dynamics.airframes import AIRFRAMES, Airframe

_MODELS = {"A": "737", "B": "B747", "C": "c172p"}
"""Model files of the package, by id; nowhere else."""


def fdm(letter: str, folder: Path) -> jsbsim.FGFDMExec:
    """A model of the airframe, silent, with its edited files under `folder`."""
    root = Path(jsbsim.get_default_root_dir())
    target = folder / "aircraft" / letter
    if not (target / f"{letter}.xml").exists():
        _write(letter, root, target)
    jsbsim.set_logger(jsbsim.DefaultLogger(jsbsim.LogLevel.ERROR))
    model = jsbsim.FGFDMExec(None)
    model.set_debug_level(0)
    model.set_aircraft_path(str(folder / "aircraft"))
    model.set_engine_path(str(root / "engine"))
    model.set_systems_path(str(root / "systems"))
    model.load_model(letter)
    model.disable_output()
    return model


@cache
def _temporary() -> tempfile.TemporaryDirectory[str]:
    return tempfile.TemporaryDirectory(prefix="flight_dynamics_models_")


def edited_models() -> Path:
    """Folder of the edited models, one a process, gone when it ends."""
    return Path(_temporary().name)


def _write(letter: str, root: Path, target: Path) -> None:
    model = _MODELS[letter]
    tree = ET.parse(root / "aircraft" / model / f"{model}.xml")  # noqa: S314 - the package's own file
    top = tree.getroot()
    for tag in ("input", "output"):
        for element in top.findall(tag):
            top.remove(element)
    plane = AIRFRAMES[letter]
    wheels = [c for c in top.iter("contact") if c.get("type") == "BOGEY"]
    for index, wheel in enumerate(wheels[:3]):
        _soften(wheel, index, plane)
    flaps = next(k for k in top.iter("kinematic") if k.get("name") == "Flaps Control")
    for setting in flaps.iter("setting"):
        _number(setting, "time", 0.02)
    functions = {f.get("name", "").rsplit("/", 1)[-1]: f for f in top.iter("function")}
    if letter == "A":
        _number(functions["dCLflap"], "product/value", 0.72)
        elevator = next(e for e in top.iter("aerosurface_scale") if e.get("name") == "Elevator Control")
        _number(elevator, "range/min", -0.45)
        _number(elevator, "range/max", 0.45)
    if letter == "C":
        _number(wheels[0], "location/z", -14.0)
    if letter == "B":
        _mend_large(top, wheels, ET.parse(root / "aircraft" / _MODELS["A"] / f"{_MODELS['A']}.xml").getroot())  # noqa: S314
    top.append(_slope_force())
    target.mkdir(parents=True, exist_ok=True)
    tree.write(target / f"{letter}.xml")


def _soften(wheel: ET.Element, index: int, plane: Airframe) -> None:
    """Replace one wheel's linear strut by a hardening spring and a damper behind a tyre."""
    k, c = (plane.nose_stiffness, plane.nose_damping) if index == 0 else (plane.main_stiffness, plane.main_damping)
    for tag in ("spring_coeff", "damping_coeff", "damping_coeff_rebound"):
        for element in wheel.findall(tag):
            wheel.remove(element)
    unit = f"gear/unit[{index}]"
    travel = 6.0 * plane.tyre_ft
    spring = [(-1.0, 0.0), (0.0, 0.0), (travel, -k * travel), (2.0 * travel, -3.5 * k * travel)]
    damper = [(v, f * c) for v, f in _DAMPER]
    grip = [(0.0, 0.05), (plane.tyre_ft, 1.0), (2.0 * plane.tyre_ft, 1.0)]
    function = ET.SubElement(ET.SubElement(wheel, "strut_force"), "function")
    total = ET.SubElement(function, "sum")
    total.append(_table(f"{unit}/compression-ft", spring))
    product = ET.SubElement(total, "product")
    product.append(_table(f"{unit}/compression-velocity-fps", damper))
    product.append(_table(f"{unit}/compression-ft", grip))


_DAMPER = (
    (-20.0, 70.0),
    (-8.0, 26.0),
    (-4.0, 11.0),
    (-2.0, 5.0),
    (0.0, 0.0),
    (2.0, -1.2),
    (4.0, -2.8),
    (8.0, -8.0),
    (20.0, -32.0),
)
"""Compression speed, ft/s, and force over damping: an orifice, mild in a gentle touch, and stronger in rebound."""


def _table(variable: str, rows: Sequence[tuple[float, float]]) -> ET.Element:
    table = ET.Element("table")
    ET.SubElement(table, "independentVar").text = variable
    ET.SubElement(table, "tableData").text = "\n".join(f"{x} {y}" for x, y in rows)
    return table


def _mend_large(top: ET.Element, wheels: Sequence[ET.Element], other: ET.Element) -> None:
    for wheel in wheels[1:3]:
        _number(wheel, "location/x", 1422.0)
    functions = {f.get("name", "").rsplit("/", 1)[-1]: f for f in top.iter("function")}
    _number(functions["dCLflap"], "product/value", 0.026)
    _number(functions["Cndr"], "product/value", -0.20)
    aero = top.find("aerodynamics")
    assert aero is not None
    for name, users in (("kCDge", ("CDi",)), ("kCLge", ("CLalpha", "dCLflap"))):
        ground = next(f for f in other.iter("function") if f.get("name") == f"aero/function/{name}")
        aero.insert(0, copy.deepcopy(ground))
        for user in users:
            product = functions[user].find("product")
            assert product is not None
            factor = ET.Element("property")
            factor.text = f"aero/function/{name}"
            product.insert(0, factor)


def _number(parent: ET.Element, path: str, value: float) -> None:
    found = parent.find(path)
    assert found is not None
    found.text = f"{value}"


def _slope_force() -> ET.Element:
    top = ET.Element("external_reactions")
    force = ET.SubElement(top, "force", {"name": "slope", "frame": "LOCAL"})
    for tag in ("location", "direction"):
        place = ET.SubElement(force, tag, {"unit": "IN"} if tag == "location" else {})
        for axis in "xyz":
            ET.SubElement(place, axis).text = "0.0"
    return top
