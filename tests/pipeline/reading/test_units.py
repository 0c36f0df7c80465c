"""Units are converted once, and what is no unit, or the wrong kind, is said."""

import subprocess
import sys

import pytest

from pipeline.errors import MapError
from pipeline.reading.units import convert

FACTORS = [
    # exact by definition: the international foot and yard (1959), the nautical mile of 1,852 m (1929), the pound of
    # 0.45359237 kg, and standard gravity 9.80665 m/s2 (3rd General Conference on Weights and Measures, 1901)
    ("m", "ft", 1 / 0.3048),
    ("yd", "ft", 3.0),
    ("m/s", "ft/min", 60 / 0.3048),
    ("kt", "ft/min", 1852 / 60 / 0.3048),
    ("fpm", "ft/min", 1.0),
    ("km/h", "kt", 1 / 1.852),
    ("kts", "kt", 1.0),
    ("m/s2", "g", 1 / 9.80665),
    ("m/s**2", "g", 1 / 9.80665),
    ("ft/s^2", "g", 0.3048 / 9.80665),
    ("g", "g", 1.0),
    ("rad", "deg", 57.29577951308232),
    ("°", "deg", 1.0),
    ("fraction", "%", 100.0),
    ("percent", "%", 1.0),
    ("lb/h", "kg/h", 0.45359237),
    ("lb", "kg", 0.45359237),
]


@pytest.mark.parametrize(("unit", "to", "factor"), FACTORS)
def test_a_factor_is_that_of_the_units_definitions(unit: str, to: str, factor: float) -> None:
    """Factors agree with the definitions to rounding."""
    assert pytest.approx(factor, rel=1e-12) == convert(unit, to)


@pytest.mark.parametrize(
    ("unit", "to", "needed"),
    [
        ("kg", "ft", "a length"),
        ("deg", "%", "a share"),
        ("%", "deg", "an angle"),
        ("fraction", "deg", "an angle"),
        ("gram", "g", "an acceleration"),
        ("rpm", "%", "a share"),
        ("dots", "deg", "an angle"),
        ("ft", "ft/min", "a speed"),
    ],
)
def test_a_unit_of_another_dimension_is_refused(unit: str, to: str, needed: str) -> None:
    """The message names the unit and the dimension that was needed; angles and shares are not one dimension."""
    with pytest.raises(MapError, match=f"unit '{unit}' found where {needed}"):
        convert(unit, to)


@pytest.mark.parametrize("unit", ["furlongs per", "", "(", "5 ft", "1", "xyzzy", "ft/", "__import__('os')"])
def test_what_is_no_unit_is_refused(unit: str) -> None:
    """Whatever the units library stumbles over becomes one sentence."""
    with pytest.raises(MapError, match="is not known; write it like"):
        convert(unit, "ft")


def test_the_units_library_is_loaded_only_when_a_unit_is_converted() -> None:
    """Importing the reader costs no units library."""
    code = "import sys, pipeline.reading.record; sys.exit('pint' in sys.modules or 'pyarrow' in sys.modules)"

    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.parametrize("unit", ["m**9**9**9", "m**99", "m^9^9"])
def test_powers_of_powers_are_no_unit(unit):
    """They would take hours; they are refused at once."""
    with pytest.raises(MapError, match="is not known"):
        convert(unit, "ft")
