"""The worldwide runway table: what is taken, how it is put, and what is refused with which reason.

Every airport in it is invented. On the equator a degree of longitude is 2 pi 6,378,137 m / 360 = 365,221.4 ft long,
and east is 90 deg: the numbers expected below follow from that.
"""

import gzip
from pathlib import Path

import polars as pl
import pytest

from pipeline.errors import ManifestError
from pipeline.reading.runways import RUNWAY, read_runways
from pipeline.reading.worldwide_runways import HEADING_DIFFERS, NO_SLOPE, read_worldwide_runways

FT_A_DEG = 365_221.4
HEADER = "id,airport_ref,airport_ident,length_ft,width_ft,surface,lighted,closed," + ",".join(
    f"{end}_{name}"
    for end in ("le", "he")
    for name in (
        *("ident", "latitude_deg", "longitude_deg", "elevation_ft"),
        *("heading_degT", "displaced_threshold_ft"),
    )
)


def row(**changes: object) -> str:
    """One pavement 8,000 ft long, due east on the equator from 10 E, 100 ft at its west end and 140 ft at its east."""
    cells: dict[str, object] = {
        "id": 1,
        "airport_ref": 2,
        "airport_ident": "XXAA",
        "length_ft": 8000,
        "width_ft": 150,
        "surface": "ASP",
        "lighted": 1,
        "closed": 0,
        "le_ident": "09",
        "le_latitude_deg": 0.0,
        "le_longitude_deg": 10.0,
        "le_elevation_ft": 100,
        "le_heading_degT": 89.0,
        "le_displaced_threshold_ft": "",
        "he_ident": "27",
        "he_latitude_deg": 0.0,
        "he_longitude_deg": 10.0 + 8000 / FT_A_DEG,
        "he_elevation_ft": 140,
        "he_heading_degT": 269.0,
        "he_displaced_threshold_ft": "",
    }
    return ",".join(str(value) for value in (cells | changes).values())


def table(tmp_path: Path, *rows: str) -> Path:
    path = tmp_path / "worldwide.csv"
    path.write_text("\n".join([HEADER, *rows]) + "\n")
    return path


def ends(path: Path) -> dict[str, dict[str, object]]:
    return {end["runway"]: end for end in read_worldwide_runways(path).runways.rows(named=True)}


def refused(path: Path) -> list[str]:
    return read_worldwide_runways(path).refused["reason"].to_list()


def test_a_pavement_gives_two_ends_with_the_heading_of_the_line_between_them(tmp_path):
    """The stated 89 and 269 deg are rounded: the ends say 90 and 270; the slope is 40 ft in 8,000, up to the east."""
    found = ends(table(tmp_path, row()))

    assert list(found) == ["XXAA 09", "XXAA 27"]
    assert found["XXAA 09"]["true_heading_deg"] == pytest.approx(90.0, abs=1e-6)
    assert found["XXAA 27"]["true_heading_deg"] == pytest.approx(270.0, abs=1e-6)
    assert found["XXAA 09"]["slope_pct"] == pytest.approx(0.5)
    assert found["XXAA 27"]["slope_pct"] == pytest.approx(-0.5)
    assert (found["XXAA 09"]["elevation_ft"], found["XXAA 27"]["elevation_ft"]) == (100.0, 140.0)
    assert found["XXAA 09"]["glidepath_deg"] is None


def test_a_displaced_threshold_lies_further_down_the_pavement(tmp_path):
    """1,000 ft displaced: the threshold is 1,000 ft east of the pavement end and 5 ft higher; the antenna stays."""
    found = ends(table(tmp_path, row(le_displaced_threshold_ft=1000)))

    assert found["XXAA 09"]["threshold_lon"] == pytest.approx(10.0 + 1000 / FT_A_DEG, abs=1e-8)
    assert found["XXAA 09"]["threshold_lat"] == pytest.approx(0.0, abs=1e-9)
    assert found["XXAA 09"]["elevation_ft"] == pytest.approx(105.0)
    assert found["XXAA 09"]["length_ft"] - found["XXAA 09"]["displaced_threshold_ft"] == 7000.0
    assert found["XXAA 09"]["localiser_antenna_ft"] == 8000.0
    assert found["XXAA 27"]["threshold_lon"] == pytest.approx(10.0 + 8000 / FT_A_DEG, abs=1e-8)


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"le_ident": "H1", "he_ident": ""}, "helipad"),
        ({"closed": 1}, "closed"),
        ({"le_ident": "ALL", "he_ident": "WAY"}, "its name says no direction"),
        ({"le_ident": "", "he_ident": ""}, "its name says no direction"),
        ({"he_latitude_deg": ""}, "position of an end missing"),
        ({"le_latitude_deg": 0, "le_longitude_deg": 0}, "position of an end missing"),
        ({"he_longitude_deg": 190}, "position of an end missing"),
        ({"length_ft": ""}, "length missing or under 300 ft"),
        ({"length_ft": 250}, "length missing or under 300 ft"),
        ({"he_ident": "28"}, "the names of its ends are not reciprocal"),
        (
            {"le_displaced_threshold_ft": 5000, "he_displaced_threshold_ft": 3000},
            "thresholds displaced beyond its length",
        ),
        ({"length_ft": 7000}, "its ends are not its length apart"),
        ({"he_longitude_deg": 10.0}, "its ends are not its length apart"),
        ({"le_ident": "27", "he_ident": "09"}, "its ends are exchanged: their names and positions disagree"),
    ],
)
def test_a_row_that_cannot_be_trusted_is_refused_with_its_reason(tmp_path, changes, reason):
    """One row, one fault, one reason; nothing of it is taken."""
    path = table(tmp_path, row(**changes), row(airport_ident="XXBB"))

    assert refused(path) == [reason]
    assert list(ends(path)) == ["XXBB 09", "XXBB 27"]


def test_rounding_of_positions_and_lengths_is_no_fault(tmp_path):
    """150 ft between the stated length and the positions is let pass; the stated length stands."""
    found = ends(table(tmp_path, row(length_ft=8150)))

    assert found["XXAA 09"]["length_ft"] == 8150.0


def test_a_stated_heading_that_is_wrong_is_noted_and_the_positions_stand(tmp_path):
    """A magnetic or a reversed heading in the table does not turn the runway."""
    read = read_worldwide_runways(
        table(tmp_path, row(le_heading_degT=104), row(airport_ident="XXBB", le_heading_degT=270))
    )

    assert read.noted[HEADING_DIFFERS] == 2
    assert read.runways["true_heading_deg"].round(6).to_list() == [90.0, 270.0, 90.0, 270.0]


@pytest.mark.parametrize(
    ("changes", "elevations"),
    [
        ({"le_elevation_ft": ""}, (None, 140.0)),
        ({"le_elevation_ft": "", "he_elevation_ft": ""}, (None, None)),
        ({"he_elevation_ft": 1400}, (None, None)),
    ],
)
def test_an_elevation_that_is_missing_or_wrong_leaves_the_slope_unknown(tmp_path, changes, elevations):
    """Null, not zero; where the two contradict each other, neither is believed."""
    path = table(tmp_path, row(**changes))
    found = ends(path)

    assert (found["XXAA 09"]["elevation_ft"], found["XXAA 27"]["elevation_ft"]) == elevations
    assert found["XXAA 09"]["slope_pct"] is None
    assert read_worldwide_runways(path).noted[NO_SLOPE] == 1


def test_the_name_of_an_end_that_is_missing_follows_from_the_other(tmp_path):
    """The other end of 09L is 27R."""
    assert list(ends(table(tmp_path, row(le_ident="9l", he_ident="")))) == ["XXAA 09L", "XXAA 27R"]


def test_a_runway_named_twice_is_taken_once_or_not_at_all(tmp_path):
    """The same row again counts once, also with its ends in the other order; at two places neither is taken."""
    turned = row(
        le_ident="27", le_longitude_deg=10.0 + 8000 / FT_A_DEG, le_elevation_ft=140,
        he_ident="09", he_longitude_deg=10.0, he_elevation_ft=100,
    )  # fmt: skip
    moved = row(le_latitude_deg=0.1, he_latitude_deg=0.1)

    assert refused(table(tmp_path, row(), row())) == ["twice in the table"]
    assert refused(table(tmp_path, row(), moved)) == ["named twice, at different places"] * 2
    assert sorted(ends(table(tmp_path, row(), turned))) == ["XXAA 09", "XXAA 27"]


def test_only_the_airports_asked_for_are_taken(tmp_path):
    """In any case of letters; an airport the table lacks is an error that names it."""
    path = table(tmp_path, row(), row(airport_ident="XXBB"))

    assert read_worldwide_runways(path, only=["xxbb"]).runways["runway"].to_list() == ["XXBB 09", "XXBB 27"]
    with pytest.raises(ManifestError, match="holds no airport XXCC"):
        read_worldwide_runways(path, only=["XXBB", "XXCC"])


def test_what_is_taken_reads_back_as_a_runway_table(tmp_path):
    """The columns are those of a user's own table, and every value is within its limits."""
    found = read_worldwide_runways(table(tmp_path, row(), row(airport_ident="XXBB", width_ft=0))).runways
    found.write_csv(tmp_path / "runways.csv")

    assert dict(found.schema) == RUNWAY
    assert found["width_ft"].to_list() == [150.0, 150.0, None, None]
    assert read_runways(tmp_path / "runways.csv").equals(found)


def test_a_packed_table_is_read_and_another_table_is_named(tmp_path):
    """Gzip is read; a table without the columns, or none at all, is one sentence."""
    packed = tmp_path / "worldwide.csv.gz"
    packed.write_bytes(gzip.compress(table(tmp_path, row()).read_bytes()))
    other = tmp_path / "other.csv"
    other.write_text("runway,threshold_lat\nA,1\n")

    assert read_worldwide_runways(packed).runways.height == 2
    with pytest.raises(
        ManifestError, match=r"other\.csv: not the worldwide runway table: column airport_ident is missing"
    ):
        read_worldwide_runways(other)
    with pytest.raises(ManifestError, match="cannot be read"):
        read_worldwide_runways(tmp_path / "absent.csv")
    assert isinstance(read_worldwide_runways(packed).refused, pl.DataFrame)
