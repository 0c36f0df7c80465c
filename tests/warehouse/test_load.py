"""Loading batches: whole, once, superseding."""

from dataclasses import replace
from datetime import timedelta

import duckdb
import polars as pl
import pytest
from polars.testing import assert_frame_equal

from warehouse import frames, marts
from warehouse.load import Loaded, load_batch, load_refusals


def _current(con, column="touchdown_distance_ft"):
    return marts.read(con, "landing")[column].to_list()


def test_a_frame_comes_back_as_it_was_loaded(con, landing, go_around, batch, at):
    """Every column of the landing frame goes through the warehouse without a change, nulls and instants included."""
    rows = [landing("a", 0, {"flare_height_ft": 31.25, "gate_500_failed": "speed"}), landing("a", 1, go_around)]
    given = batch(rows)

    load_batch(con, given, at=at)

    back = marts.read(con, "approaches").select(*frames.LANDING)
    assert_frame_equal(given.landings, back)


def test_loading_twice_changes_nothing(con, landing, batch, held, at):
    """The same batch at a later time leaves every row of every table as it was, instants of loading too."""
    given = batch([landing("a", 0), landing("a", 1), landing("b", 0)])
    first = load_batch(con, given, at=at)
    before = held(con)

    second = load_batch(con, given, at=at + timedelta(days=1))

    assert first == Loaded(logs_new=2, logs_changed=0, measured=3, superseded=0, restored=0, unchanged=0)
    assert second == Loaded(logs_new=0, logs_changed=0, measured=0, superseded=0, restored=0, unchanged=3)
    assert before == held(con)


def test_row_order_and_last_bits_make_no_new_measurement(con, landing, batch, held, at):
    """Rows in another order whose numbers differ in the last bits are the same measurement."""
    given = batch([landing("a", 0, {"touchdown_distance_ft": 1234.5625}), landing("a", 1)])
    load_batch(con, given, at=at)
    before = held(con)
    wobbled = given.landings.with_columns(pl.col("touchdown_distance_ft", "peak_g") * (1 + 1e-14)).reverse()

    again = load_batch(con, replace(given, landings=wobbled, logs=given.logs.reverse()), at=at)

    assert again.unchanged == 2
    assert before == held(con)


@pytest.mark.parametrize(
    "changes",
    [
        {"policy_sha256": "policy-b"},
        {"definition": "2"},
        {"map_sha256": "map-b"},
        {"runways_sha256": None},
        {"headwind_kt": 11.0},
        {"gate_500_stable": False},
        {"threshold_height_ft": None},
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_a_different_measurement_supersedes(con, landing, batch, at, changes):
    """Another policy, definition, map, runway table or result takes the place of the current row, which is kept."""
    load_batch(con, batch([landing("a", 0)]), at=at)

    loaded = load_batch(con, batch([landing("a", 0, changes)]), at=at + timedelta(hours=1))

    assert (loaded.measured, loaded.superseded) == (1, 1)
    ((column, value),) = changes.items()
    assert marts.read(con, "landing")[column].to_list() == [value]
    superseded = con.execute("select superseded_at from measurement where superseded_at is not null").fetchall()
    assert superseded == [(at + timedelta(hours=1),)]


def test_going_back_restores_the_old_measurement(con, landing, batch, at):
    """A map corrected and then set back leaves one current row, the first, and the other superseded."""
    old, new = batch([landing("a", 0)]), batch([landing("a", 0, {"touchdown_distance_ft": 1800.0})])
    load_batch(con, old, at=at)
    load_batch(con, new, at=at)

    loaded = load_batch(con, old, at=at)

    assert (loaded.measured, loaded.restored, loaded.superseded) == (0, 1, 1)
    assert _current(con) == [1.5]


def test_a_landing_its_log_no_longer_holds_is_superseded(con, landing, batch, at):
    """When a corrected map finds one landing where there were two, only that one is current."""
    load_batch(con, batch([landing("a", 0), landing("a", 1), landing("b", 0)]), at=at)

    loaded = load_batch(con, batch([landing("a", 0)]), at=at)

    assert loaded.superseded == 1
    assert _current(con, "landing_index") == [0, 0]
    assert con.execute("select count(*) from approach").fetchall() == [(3,)]


def test_a_log_without_any_approach_supersedes_what_it_held(con, landing, batch, at):
    """A log read again in which no approach is found is held, with none."""
    load_batch(con, batch([landing("a", 0)]), at=at)

    load_batch(con, batch([], extra_logs=("a",)), at=at)

    assert _current(con) == []
    assert marts.read(con, "logs").select("log_file", "landings").rows() == [("a.csv", 0)]


def test_a_corrected_manifest_updates_the_context_in_place(con, landing, batch, at):
    """A pilot corrected in the manifest changes the landing's row without a new measurement."""
    load_batch(con, batch([landing("a", 0)]), at=at)

    loaded = load_batch(con, batch([landing("a", 0, {"pilot": "P-BBBB2"})]), at=at)

    assert (loaded.measured, loaded.superseded, loaded.unchanged) == (0, 0, 1)
    assert _current(con, "pilot") == ["P-BBBB2"]


def test_a_log_under_another_name_is_the_same_log(con, landing, batch, at):
    """Content tells a log: a copy under another name adds no landing and keeps the instant of its first load."""
    given = batch([landing("a", 0)])
    load_batch(con, given, at=at)
    renamed = given.logs.with_columns(log_file=pl.lit("copy of a.csv.gz"))

    loaded = load_batch(con, replace(given, logs=renamed), at=at + timedelta(days=1))

    assert (loaded.logs_new, loaded.logs_changed, loaded.measured) == (0, 1, 0)
    assert marts.read(con, "logs").select("log_file", "ingested_at").rows() == [("copy of a.csv.gz", at)]


def test_contacts_follow_their_measurement(con, landing, batch, at):
    """A bounce found by a second measurement shows; the contacts of the first are kept but not current."""
    given = batch([landing("a", 0)])
    load_batch(con, given, at=at)
    bounce = given.contacts.with_columns(contact_index=pl.lit(1, pl.Int64), t_s=pl.col("t_s") + 1.1)

    loaded = load_batch(con, replace(given, contacts=pl.concat([given.contacts, bounce])), at=at)

    assert loaded.measured == 1
    assert marts.read(con, "contacts")["contact_index"].to_list() == [0, 1]
    assert con.execute("select count(*) from contact").fetchall() == [(3,)]


def test_a_batch_is_loaded_whole_or_not_at_all(con, landing, batch, held, at):
    """A value the schema refuses (here an infinite one) leaves nothing of its batch behind."""
    before = held(con)
    rows = [landing("a", 0), landing("b", 0, {"flare_height_ft": float("inf")})]

    with pytest.raises(duckdb.ConstraintException, match="flare_height_ft"):
        load_batch(con, batch(rows), at=at)

    assert before == held(con)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_a_number_that_is_none_is_refused(con, landing, batch, at, value):
    """NaN and infinities never get into the warehouse."""
    with pytest.raises(duckdb.ConstraintException):
        load_batch(con, batch([landing("a", 0, {"peak_g": value})]), at=at)


def test_a_batch_that_is_not_whole_is_refused(con, landing, batch, at):
    """A landing without its log, a landing twice or a column too many is refused with its name."""
    given = batch([landing("a", 0)])

    with pytest.raises(ValueError, match=r"landings: log_sha256 .* is not in the batch"):
        load_batch(con, replace(given, logs=given.logs.clear()), at=at)
    with pytest.raises(ValueError, match="landing_id must tell the rows apart"):
        load_batch(con, replace(given, landings=pl.concat([given.landings, given.landings])), at=at)
    with pytest.raises(ValueError, match=r"not held here: \['smell'\]"):
        load_batch(con, replace(given, landings=given.landings.with_columns(smell=1)), at=at)
    with pytest.raises(ValueError, match=r"columns missing: \['peak_g'\]"):
        load_batch(con, replace(given, landings=given.landings.drop("peak_g")), at=at)


def test_names_that_hold_sql_are_only_names(con, landing, batch, at):
    """A pilot or file named like a statement is stored, read back and found as the text it is."""
    nasty = "x'); drop table approach; --"
    given = batch([landing("a", 0, {"pilot": nasty, "runway": '"; delete from log; --'})])
    load_batch(con, replace(given, logs=given.logs.with_columns(log_file=pl.lit(nasty))), at=at)

    found = marts.read(con, "landing", where={"pilot": nasty})

    assert found.select("pilot", "runway", "log_file").rows() == [(nasty, '"; delete from log; --', nasty)]


def test_refusals_keep_their_first_instant_until_the_reason_changes(con, at):
    """The same refusal again changes nothing; another reason replaces it and bears its own instant."""
    refusal = pl.DataFrame({"log_sha256": ["s"], "log_file": ["a.csv"], "reason": ["a.csv: empty"]})
    assert load_refusals(con, refusal, at=at) == 1

    same = load_refusals(con, refusal, at=at + timedelta(days=1))

    assert same == 0
    assert marts.read(con, "refusals")["refused_at"].to_list() == [at]
    assert load_refusals(con, refusal.with_columns(reason=pl.lit("a.csv: no time")), at=at + timedelta(days=2)) == 1
    assert marts.read(con, "refusals").rows() == [("a.csv", "a.csv: no time", at + timedelta(days=2), "s")]


def test_a_log_accepted_later_is_no_longer_refused(con, landing, batch, at):
    """When a mended map lets a log in, its refusal goes, and those of other logs stay."""
    given = batch([landing("a", 0)])
    refusals = pl.DataFrame(
        {
            "log_sha256": [given.logs["log_sha256"][0], "other"],
            "log_file": ["a.csv", "b.csv"],
            "reason": ["no map", "empty"],
        }
    )
    load_refusals(con, refusals, at=at)

    load_batch(con, given, at=at)

    assert marts.read(con, "refusals")["log_file"].to_list() == ["b.csv"]


def test_channels_of_a_log_are_replaced(con, landing, batch, at):
    """A log that comes again brings its channels anew: a mended one is no longer suspect, one no longer read goes."""
    given = batch([landing("a", 0)])
    pitch = given.channel_quality.with_columns(suspect=pl.lit("reads -1.00 of what vertical speed says: sign turned?"))
    roll = given.channel_quality.with_columns(channel=pl.lit("roll_deg"))
    load_batch(con, replace(given, channel_quality=pl.concat([pitch, roll])), at=at)
    logs = marts.read(con, "logs").select("suspect", "suspect_why").row(0)
    assert logs == ("pitch_deg", "pitch_deg reads -1.00 of what vertical speed says: sign turned?")
    assert marts.read(con, "status")["logs_suspect"].to_list() == [1]

    load_batch(con, given, at=at)

    assert marts.read(con, "channel_quality").select("log_file", "channel", "suspect").rows() == [
        ("a.csv", "pitch_deg", None)
    ]
    assert marts.read(con, "status")["logs_suspect"].to_list() == [0]
