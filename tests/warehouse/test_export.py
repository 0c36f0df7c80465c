"""Exports: three formats of the same rows, whole, harmless in a spreadsheet."""

import csv
import resource
from dataclasses import replace
from datetime import date

import polars as pl
import pyarrow.ipc
import pytest
from polars.testing import assert_frame_equal

from pipeline.errors import SettingsError, StoreError
from pipeline.statistics.fault_shares import no_faults
from pipeline.statistics.week import weekly_statistics
from warehouse import frames, marts
from warehouse.catalogue import EXPORTS
from warehouse.export import export
from warehouse.load import load_batch
from warehouse.results import load_results


@pytest.fixture
def filled(con, landing, go_around, batch, at):
    """A warehouse with two landings and a go-around."""
    load_batch(con, batch([landing("a", 0), landing("a", 1, go_around), landing("b", 0)]), at=at)
    return con


def test_parquet_and_arrow_hold_the_mart(filled, tmp_path):
    """Rows, columns, types and order are the mart's in both formats."""
    wanted = marts.read(filled, "landing")

    assert export(filled, "landings", tmp_path / "l.parquet") == 2
    assert export(filled, "landings", tmp_path / "l.arrow") == 2

    assert_frame_equal(wanted, pl.read_parquet(tmp_path / "l.parquet"))
    assert_frame_equal(wanted, pl.read_ipc(tmp_path / "l.arrow"))
    with pyarrow.ipc.open_file(tmp_path / "l.arrow") as other:
        assert other.read_all().num_rows == 2


def test_csv_holds_the_mart(filled, tmp_path):
    """A CSV has the same columns and rows, instants in ISO form, nulls blank."""
    export(filled, "approaches", tmp_path / "a.csv")

    with (tmp_path / "a.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert list(rows[0]) == marts.read(filled, "approaches").columns
    assert [row["outcome"] for row in rows] == ["full_stop", "go_around", "full_stop"]
    assert rows[0]["flown_at"] == "2026-11-16T09:00:00.000000Z"
    assert (rows[1]["contact_t_s"], rows[1]["landing_index"]) == ("", "")


def test_every_table_can_be_exported_in_every_format(filled, tmp_path):
    """Empty or not, with lists or not, each table named can be written."""
    for table in EXPORTS:
        for ending in ("csv", "parquet", "arrow"):
            out = tmp_path / f"{table}.{ending}"
            export(filled, table, out)
            assert out.stat().st_size > 0


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0d"])
def test_csv_text_is_never_a_formula(con, landing, batch, at, tmp_path, start):
    """A text that a spreadsheet could run has an apostrophe before it; numbers below zero keep their sign."""
    text = f'{start}HYPERLINK("x")'
    load_batch(con, batch([landing("a", 0, {"runway": text, "vertical_speed_at_contact_fpm": -180.0})]), at=at)

    export(con, "landings", tmp_path / "l.csv")
    export(con, "landings", tmp_path / "l.parquet")

    with (tmp_path / "l.csv").open(newline="") as file:
        row = next(csv.DictReader(file))
    assert row["runway"] == "'" + text
    assert row["vertical_speed_at_contact_fpm"] == "-180.0"
    assert pl.read_parquet(tmp_path / "l.parquet")["runway"].to_list() == [text]


def test_statistics_are_exported_as_of_the_last_date(con, tmp_path):
    """Of several dates the last one is written."""
    empty = weekly_statistics(marts.read(con, "landing"), no_faults(), as_of=date(2026, 11, 22))
    for day, centre in ((15, 1.0), (22, 2.0)):
        row = {"pilot": "P-1", "measure": "peak_g", "n": 9, "centre": centre}
        outcome = pl.DataFrame([row], schema=frames.PILOT_OUTCOME)
        load_results(con, date(2026, 11, day), replace(empty, pilot_outcome=outcome), inputs_sha256="i")

    export(con, "pilots", tmp_path / "p.parquet")

    assert pl.read_parquet(tmp_path / "p.parquet").select("as_of", "centre").rows() == [(date(2026, 11, 22), 2.0)]


@pytest.mark.parametrize(
    ("table", "name", "said"),
    [
        ("passwords", "x.csv", "passwords: no such table; there are approaches, channel_quality, cohort_weeks"),
        ("landings", "x.xlsx", r"the ending says the format; use one of \.csv, \.parquet, \.arrow"),
        ("landings", "nowhere/x.csv", "there is no folder"),
    ],
)
def test_what_cannot_be_exported_is_said(con, tmp_path, table, name, said):
    """A wrong table, ending or folder is a sentence that lists what there is, and no file is left."""
    with pytest.raises(SettingsError, match=said):
        export(con, table, tmp_path / name)

    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("ending", ["csv", "parquet", "arrow"])
def test_a_full_disk_leaves_the_old_file(filled, tmp_path, ending):
    """When the disk takes no more, the export says so and what was there before stays as it was."""
    out = tmp_path / f"l.{ending}"
    out.write_text("older")
    old = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, old[1]))
    try:
        with pytest.raises(StoreError, match="disk full; nothing was lost"):
            export(filled, "landings", out)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, old)

    assert out.read_text() == "older"
    assert [path.name for path in tmp_path.iterdir()] == [out.name]
