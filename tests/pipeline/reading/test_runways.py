"""Runway and exposure tables: types, defaults, and the sentence when they cannot be used."""

from datetime import date
from pathlib import Path

import polars as pl
import pytest

from pipeline.errors import ManifestError
from pipeline.reading.runways import RUNWAY, read_exposure, read_runways

HEADER = "runway,threshold_lat,threshold_lon,true_heading_deg,length_ft"


def runways(tmp_path: Path, said: str) -> pl.DataFrame:
    path = tmp_path / "runways.csv"
    path.write_text(said, encoding="utf-8")
    return read_runways(path)


def exposure(tmp_path: Path, said: str) -> pl.DataFrame:
    path = tmp_path / "exposure.csv"
    path.write_text(said, encoding="utf-8")
    return read_exposure(path)


def test_a_runway_has_its_defaults_and_its_unknowns(tmp_path: Path) -> None:
    """No displacement unless stated, an antenna 1,000 ft beyond the length, and null for what nobody said."""
    (found,) = runways(tmp_path, f"{HEADER},slope_pct\nSaltmere 09,-41.5,-120.25,88.4,6000,-0.6\n").rows(named=True)

    assert list(RUNWAY) == list(found)
    assert (
        found["runway"],
        found["threshold_lat"],
        found["threshold_lon"],
        found["true_heading_deg"],
        found["length_ft"],
        found["slope_pct"],
    ) == ("Saltmere 09", -41.5, -120.25, 88.4, 6000.0, -0.6)
    assert (found["displaced_threshold_ft"], found["localiser_antenna_ft"]) == (0.0, 7000.0)
    assert {None} == {found[name] for name in ("width_ft", "elevation_ft", "aim_point_ft", "glidepath_deg")}


def test_a_runway_table_written_again_is_the_same(tmp_path: Path) -> None:
    """Defaults that were filled in stay as they are when the frame is saved and read."""
    first = runways(tmp_path, f"{HEADER},displaced_threshold_ft\n\"A, 'b' <i>\",1,2,3,5000,300\nC,1,2,183,5000,\n")
    first.write_csv(tmp_path / "again.csv")

    assert first.equals(read_runways(tmp_path / "again.csv"))


WRONG = {
    "no column": ("runway,threshold_lat\nA,1\n", "column threshold_lon is missing"),
    "blank": (f"{HEADER}\nA,1,,3,5000\n", "line 2: threshold_lon is blank"),
    "latitude": (f"{HEADER}\nA,91,2,3,5000\n", "threshold_lat = '91' is not a number from -90 to 90"),
    "length": (f"{HEADER}\nA,1,2,3,50\n", "length_ft = '50' is not a number from 300"),
    "twice": (f"{HEADER}\nA,1,2,3,5000\nA,1,2,3,5000\n", "line 3: names the runway of line 2 again"),
    "displaced": (f"{HEADER},displaced_threshold_ft\nA,1,2,3,5000,5000\n", "is not less than length_ft = 5000"),
    "misspelt": (f"{HEADER},slope_pcnt\nA,1,2,3,5000,1\n", "column 'slope_pcnt' is not known; did you mean slope_pct?"),
}


@pytest.mark.parametrize(("said", "sentence"), WRONG.values(), ids=WRONG)
def test_a_wrong_runway_table_is_refused_by_line(tmp_path: Path, said: str, sentence: str) -> None:
    """The message names the file, the line, and what was needed."""
    with pytest.raises(ManifestError) as caught:
        runways(tmp_path, said)

    assert sentence in str(caught.value)
    assert str(caught.value).startswith("runways.csv: ")


def test_exposure_is_landings_a_pilot_aircraft_and_month(tmp_path: Path) -> None:
    """Months are their first day; an aircraft may be left blank."""
    found = exposure(tmp_path, "pilot,aircraft,month,landings_flown\nNour,X1,2026-11,14\nNour,,2026-10,0\n")

    assert [("Nour", "X1", date(2026, 11, 1), 14), ("Nour", None, date(2026, 10, 1), 0)] == found.rows()


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        ("Nour,X1,November,3", "month = 'November' is not a month such as 2026-11"),
        ("Nour,X1,2026-11,-3", "landings_flown = '-3' is not a whole number"),
        (",X1,2026-11,3", "pilot is blank"),
        ("Nour,X1,2026-11,3\nNour,X1,2026-11,4", "line 3: says again what line 2 says"),
    ],
)
def test_a_wrong_exposure_table_is_refused_by_line(tmp_path: Path, row: str, sentence: str) -> None:
    """The message names the file, the line, and what was needed."""
    with pytest.raises(ManifestError, match=sentence):
        exposure(tmp_path, f"pilot,aircraft,month,landings_flown\n{row}\n")
