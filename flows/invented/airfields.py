"""Four invented runways at three invented fields in empty ocean, and the ground before them."""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray

from flows.invented.geodesy import runway_to_globe
from flows.invented.units import FT

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Runway:
    """One landing direction; positions are of the LANDING threshold, `length_ft` is pavement.

    `dip_ft`: how far the ground lies below the threshold half a mile before it.
    """

    runway: str
    field: str
    threshold_lat: float
    threshold_lon: float
    true_heading_deg: float
    length_ft: float
    width_ft: float
    elevation_ft: float
    displaced_threshold_ft: float
    slope_pct: float
    aim_point_ft: float
    glidepath_deg: float
    threshold_crossing_height_ft: float
    localiser_antenna_ft: float
    dip_ft: float

    def ground_ft(self, along_ft: Floats) -> Floats:
        """Height of the ground under `along_ft` (n,) relative to the threshold, ft: sloping runway, dip before it."""
        before = np.clip((-along_ft - 1200.0) / 2200.0, 0.0, 1.0)
        return self.slope_pct / 100.0 * np.maximum(along_ft, 0.0) - self.dip_ft * before**2 * (3.0 - 2.0 * before)


def _other_end(first: Runway, *, runway: str, dip_ft: float) -> Runway:
    """The same pavement landed on from the other side."""
    zero = np.zeros(1)
    lat, lon = runway_to_globe(
        zero + first.length_ft * FT,
        zero,
        latitude_deg=first.threshold_lat,
        longitude_deg=first.threshold_lon,
        heading_deg=first.true_heading_deg,
    )
    values = dict(vars(first))
    values.update(
        runway=runway,
        threshold_lat=round(float(lat[0]), 7),
        threshold_lon=round(float(lon[0]), 7),
        true_heading_deg=(first.true_heading_deg + 180.0) % 360.0,
        elevation_ft=round(first.elevation_ft + first.slope_pct / 100.0 * first.length_ft, 1),
        slope_pct=-first.slope_pct,
        dip_ft=dip_ft,
    )
    return Runway(**values)


_UNDRY_08 = Runway(
    "Undry 08", "Undry", -43.61520, -18.22410, 83.4, 6890.0, 148.0, 22.0, 0.0, 0.35, 1000.0, 3.0, 50.0, 7900.0, 12.0
)
RUNWAYS: tuple[Runway, ...] = (
    _UNDRY_08,
    _other_end(_UNDRY_08, runway="Undry 26", dip_ft=18.0),
    Runway(
        "Quorle 17",
        "Quorle",
        -43.12880,
        -17.46370,
        171.8,
        5580.0,
        98.0,
        641.0,
        620.0,
        -0.8,
        900.0,
        3.5,
        48.0,
        5900.0,
        45.0,
    ),
    Runway(
        "Vessing 31",
        "Vessing",
        -44.02240,
        -17.05610,
        312.6,
        7550.0,
        148.0,
        1847.0,
        0.0,
        0.9,
        1000.0,
        3.0,
        52.0,
        8500.0,
        60.0,
    ),
)


def runway_table() -> pl.DataFrame:
    """The runways as the table an operator would bring; the dip of the ground is not in it."""
    return pl.DataFrame([vars(runway) for runway in RUNWAYS]).drop("field", "dip_ft")
