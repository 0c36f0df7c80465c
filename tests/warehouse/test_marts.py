"""Given rows in, expected rows of each mart out."""

from dataclasses import replace
from datetime import UTC, date, datetime

import polars as pl
import pytest

from pipeline.errors import SettingsError
from pipeline.measures.table import schema
from warehouse import marts, sql_files, views
from warehouse.catalogue import EXPORTS, MARTS
from warehouse.load import load_batch, load_refusals
from warehouse.marts import Between
from warehouse.results import load_edition


@pytest.fixture
def load(con, batch, at):
    """Return what loads rows of the landing frame."""

    def loading(*rows):
        return load_batch(con, batch(list(rows)), at=at)

    return loading


def test_every_file_of_marts_is_in_the_catalogue_and_states_its_grain():
    """A mart is one file with its grain in its first line and one entry of the catalogue; so is a staging view."""
    assert set(sql_files.statements("marts")) == set(MARTS)
    for text in (*sql_files.statements("marts").values(), *sql_files.statements("staging").values()):
        assert text.startswith("-- Grain: one row")


def test_every_mart_has_its_keys_and_is_empty_at_first(con):
    """An empty warehouse has every mart, with its key columns, without rows; status alone always has its one row."""
    for name, mart in MARTS.items():
        rows = marts.read(con, name)
        assert set(mart.keys) <= set(rows.columns)
        assert rows.height == (1 if name == "status" else 0)


def test_no_mart_has_decimals(con):
    """Counts and sums come out as whole numbers and floats, which every reader of a frame takes."""
    for name in MARTS:
        dtypes = marts.read(con, name).dtypes
        assert not any(isinstance(dtype, pl.Decimal) for dtype in dtypes), name


def test_the_keys_tell_the_rows_apart(con, load, landing, go_around):
    """No two rows of a mart have the same keys."""
    load(landing("a", 0), landing("a", 1, go_around), landing("b", 0, {"pilot": None, "aircraft_type": None}))

    for name, mart in MARTS.items():
        rows = marts.read(con, name)
        assert not rows.select(mart.keys).is_duplicated().any(), name


def test_landing_columns_stand_in_the_order_promised(con):
    """Identity first, then every measure with its quality and reason, then context: what an export has."""
    identity = [
        *("landing_id", "log_file", "log_sha256", "landing_index", "outcome", "contact_t_s", "flown_at", "pilot"),
        *("aircraft", "aircraft_type", "runway", "device", "exercise", "landing_mode", "definition", "policy_sha256"),
    ]

    for name in ("landing", "approaches"):
        columns = marts.read(con, name).columns
        assert columns[: len(identity) + len(schema())] == [*identity, *schema()]


def test_approaches_hold_go_arounds_and_landing_does_not(con, load, landing, go_around):
    """A go-around is an approach and no landing; a landing whose contact nothing times is a landing."""
    untimed = {"contact_t_s": None, "contact_u_s": None, "contact_at": None}
    load(landing("a", 0, go_around), landing("a", 1, {"landing_index": 0}), landing("b", 0, untimed))

    approaches = marts.read(con, "approaches").select("log_file", "approach_index", "landing_index", "outcome")
    landings = marts.read(con, "landing").select("log_file", "approach_index", "landing_index")

    assert approaches.rows() == [
        ("a.csv", 0, None, "go_around"),
        ("a.csv", 1, 0, "full_stop"),
        ("b.csv", 0, 0, "full_stop"),
    ]
    assert landings.rows() == [("a.csv", 1, 0), ("b.csv", 0, 0)]


def test_contacts_name_the_firmest(con, landing, batch, at):
    """Contacts come with their landing, in order, and the one with the greatest downward speed is marked."""
    given = batch([landing("a", 0)])
    contacts = pl.DataFrame(
        {
            "landing_id": [given.landings["landing_id"][0]] * 3,
            "contact_index": [2, 0, 1],
            "t_s": [203.0, 200.0, 201.5],
            "airtime_before_s": [0.4, None, 0.9],
            "height_before_ft": [0.6, None, 2.1],
            "vertical_speed_fpm": [None, -190.0, -260.0],
            "vertical_speed_fpm_u": [None, 20.0, 30.0],
            "peak_g": [1.1, 1.3, 1.4],
            "peak_g_u": [0.02, 0.02, 0.02],
        }
    )
    load_batch(con, replace(given, contacts=contacts), at=at)

    rows = marts.read(con, "contacts").select("contact_index", "t_s", "pilot", "firmest").rows()

    assert rows == [(0, 200.0, "P-AAAA1", False), (1, 201.5, "P-AAAA1", True), (2, 203.0, "P-AAAA1", None)]


@pytest.mark.parametrize(
    ("changes", "eligible"),
    [
        ({}, True),
        ({"landing_mode": "manual with autothrust"}, True),
        ({"landing_mode": "unknown"}, True),
        ({"outcome": "touch_and_go"}, True),
        ({"device": "qualified_simulator"}, False),
        ({"exercise": "flapless"}, False),
        ({"landing_mode": "automatic"}, False),
        ({"why_logged": "after_event"}, False),
        ({"pilot": None}, False),
        ({"takeover": "flare"}, False),
        ({"takeover": "unknown"}, False),
    ],
    ids=lambda value: "-".join(f"{k}={v}" for k, v in value.items()) if isinstance(value, dict) else str(value),
)
def test_what_may_enter_a_baseline(con, load, landing, changes, eligible):
    """Routine manual landings of a known pilot in an aircraft, without exercise or takeover, and no others."""
    load(landing("a", 0, changes))

    assert marts.read(con, "eligible_landing").height == eligible


def test_a_week_belongs_to_the_iso_year(con, load, landing):
    """1 January 2027 is in week 53 of 2026, by ISO 8601; a minute before midnight UTC on Sunday is the old week."""
    load(
        landing("a", 0, {"flown_at": datetime(2027, 1, 1, 12, tzinfo=UTC)}),
        landing("b", 0, {"flown_at": datetime(2026, 11, 22, 23, 50, tzinfo=UTC), "contact_t_s": 540.0}),
        landing("c", 0, {"flown_at": datetime(2026, 11, 22, 23, 50, tzinfo=UTC), "contact_t_s": 600.0}),
        landing("d", 0, {"flown_at": None, "contact_at": None}),
    )

    weeks = marts.read(con, "pilot_week").select("iso_year", "iso_week", "landings").rows()

    assert weeks == [(2026, 47, 1), (2026, 48, 1), (2026, 53, 1)]


def test_weeks_count_and_take_medians_over_what_is_there(con, load, landing):
    """Landings are counted, medians skip nulls, types and pilots are kept apart, the cohort takes pilots together."""
    sink, far = "vertical_speed_at_contact_fpm", "touchdown_distance_ft"
    load(
        landing("a", 0, {sink: -100.0, far: 1000.0, "bounces": 1}),
        landing("b", 0, {sink: -200.0, far: None, "bounces": 0}),
        landing("c", 0, {sink: -150.0, far: 1500.0, "bounces": 0}),
        landing("d", 0, {sink: -400.0, far: 2000.0, "pilot": "P-BBBB2"}),
        landing("e", 0, {sink: -90.0, "aircraft_type": "Teal 1"}),
        landing("f", 0, {sink: -900.0, "exercise": "flapless"}),
    )
    columns = ["landings", "vertical_speeds", f"{sink}_median", "touchdown_distances", f"{far}_median", "bounces"]

    pilots = marts.read(con, "pilot_week", where={"aircraft_type": "Heron 4"}).select("pilot", *columns).rows()
    cohort = marts.read(con, "cohort_week").select("aircraft_type", "pilots", *columns).rows()

    assert pilots == [("P-AAAA1", 3, 3, -150.0, 2, 1250.0, 1), ("P-BBBB2", 1, 1, -400.0, 1, 2000.0, 0)]
    assert cohort == [("Heron 4", 2, 4, 4, -175.0, 3, 1500.0, 1), ("Teal 1", 1, 1, 1, -90.0, 1, 1.5, 0)]


def test_gates_count_what_was_judged_and_gone_around(con, load, landing, go_around):
    """Of six routine approaches one is not judged, three miss the gate: one goes around, one's log ends before it did."""
    load(
        landing("a", 0, {"gate_500_stable": True}),
        landing("b", 0, {"gate_500_stable": True}),
        landing("c", 0, {"gate_500_stable": False}),
        landing("d", 0, {**go_around, "gate_500_stable": False}),
        landing("e", 0, {"gate_500_stable": None}),
        landing("h", 0, {**go_around, "outcome": "unfinished", "gate_500_stable": False}),
        landing("f", 0, {"gate_500_stable": False, "exercise": "flapless"}),
        landing("g", 0, {"gate_500_stable": False, "device": "qualified_simulator"}),
    )

    ((row,)) = marts.read(con, "gate_summary", where={"gate": "500 ft"}).rows(named=True)

    assert row == {
        "gate": "500 ft",
        "height_ft": 500.0,
        "aircraft_type": "Heron 4",
        "approaches": 6,
        "judged": 5,
        "met": 2,
        "not_met": 3,
        "held_to_50ft": 0,
        "not_met_gone_around": 1,
        "not_met_unfinished": 1,
        "met_gone_around": 0,
        "met_share": 0.4,
        "not_met_gone_around_share": 0.5,
    }


def test_gate_shares_of_nothing_are_null(con, load, landing):
    """Where no approach was judged there is no share, rather than zero or a division by it."""
    load(landing("a", 0, {"gate_500_stable": None}))

    row = marts.read(con, "gate_summary", where={"gate": "500 ft"}).row(0, named=True)

    assert (row["judged"], row["met_share"], row["not_met_gone_around_share"]) == (0, None, None)


def test_null_reasons_count_each_measure(con, load, landing, go_around):
    """Each measure's nulls are counted by reason over landings; go-arounds do not count."""
    load(
        landing("a", 0, {"flare_height_ft": None}),
        landing("b", 0, {"flare_height_ft": None, "flare_height_ft_reason": "too_slow", "flare_height_ft_u": None}),
        landing("c", 0, {"flare_height_ft": None}),
        landing("d", 0),
        landing("e", 0, go_around),
    )

    assert marts.read(con, "null_reasons").rows() == [
        ("flare_height_ft", "not_reached", 2, 4, 0.5),
        ("flare_height_ft", "too_slow", 1, 4, 0.25),
    ]


def test_status_counts_what_is_held(con, landing, go_around, batch, at):
    """Logs, refusals, approaches, landings, go-arounds, pilots and what waits are in one row."""
    rows = [landing("a", 0), landing("a", 1, go_around), landing("b", 0, {"pilot": None})]
    load_batch(con, batch(rows, extra_logs=("c",)), at=at)
    load_batch(con, batch([landing("b", 0, {"pilot": None, "peak_g": 1.9})]), at=at)
    load_refusals(con, pl.DataFrame({"log_sha256": ["s"], "log_file": ["x.csv"], "reason": ["empty"]}), at=at)
    load_edition(con, date(2026, 11, 22), week="2026-W47", inputs_sha256="i", at=at)

    status = marts.read(con, "status").row(0, named=True)

    wanted = {
        "logs": 3,
        "logs_without_landing": 1,
        "refused": 1,
        "approaches": 3,
        "landings": 2,
        "go_arounds": 1,
        "pilots": 1,
        "landings_without_pilot": 1,
        "superseded": 1,
        "last_edition": "2026-W47",
        "last_contact_at": datetime(2026, 11, 16, 9, 3, 20, tzinfo=UTC),
    }
    assert wanted == {key: status[key] for key in wanted}


def test_trace_files_are_those_of_current_landings(con, landing, batch, at):
    """A landing that its log no longer holds has no trace to show."""
    load_batch(con, batch([landing("a", 0), landing("a", 1)]), at=at)
    kept = batch([landing("a", 0)])
    load_batch(con, kept, at=at)

    assert marts.read(con, "trace_files").rows() == [(kept.landings["landing_id"][0], "batch-1.parquet")]


def test_conditions_choose_rows(con, load, landing):
    """Equal, one of, without a value, from and before."""
    at_nine, at_ten = datetime(2026, 11, 16, 9, tzinfo=UTC), datetime(2026, 11, 16, 10, tzinfo=UTC)
    load(
        landing("a", 0, {"contact_t_s": 0.0}),
        landing("b", 0, {"flown_at": at_ten, "contact_t_s": 0.0, "pilot": "P-BBBB2"}),
        landing("c", 0, {"pilot": None}),
    )

    def files(where):
        return "".join(marts.read(con, "landing", where=where)["log_file"].str.head(1))

    assert files({"pilot": "P-BBBB2"}) == "b"
    assert files({"pilot": ["P-AAAA1", "P-BBBB2"]}) == "ab"
    assert files({"pilot": None}) == "c"
    assert files({"contact_at": Between(at_nine, at_ten)}) == "ac"
    assert files({"contact_at": Between(low=at_ten)}) == "b"
    assert files({"contact_at": Between(high=at_ten), "pilot": "P-AAAA1"}) == "a"
    assert files({"contact_at": Between()}) == "abc"


def test_a_column_or_mart_that_is_not_there_is_named(con):
    """Names are checked against what is there, so that none of them can be SQL."""
    with pytest.raises(SettingsError, match="no such mart; there are approaches"):
        marts.read(con, "landing; drop table log")
    with pytest.raises(SettingsError, match="landing: has no column 1=1 or pilot; it has landing_id"):
        marts.read(con, "landing", where={"1=1 or pilot": "x"})


def test_views_leave_nothing_in_the_file(con):
    """Views are the connection's own: the database holds tables only."""
    views.ensure(con)

    stored = con.execute("select view_name from duckdb_views() where not internal and not temporary").fetchall()
    assert stored == []


def test_exports_have_names_of_their_own():
    """No two marts share an export name."""
    assert len(EXPORTS) == len([mart for mart in MARTS.values() if mart.export])
