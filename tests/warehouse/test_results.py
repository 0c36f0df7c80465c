"""Statistics of a date: replaced whole, the same never twice."""

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta

import duckdb
import polars as pl
import pytest
from polars.testing import assert_frame_equal

from pipeline.statistics.fault_shares import no_faults
from pipeline.statistics.week import weekly_statistics
from warehouse import frames, marts
from warehouse.load import load_batch
from warehouse.results import inputs_sha256, load_edition, load_results

AS_OF = date(2026, 11, 22)


@dataclass(frozen=True)
class Given:
    """Result frames of one date."""

    pilot_outcome: pl.DataFrame
    fault_share: pl.DataFrame
    drift_point: pl.DataFrame
    drift_flag: pl.DataFrame
    consistency: pl.DataFrame
    review: pl.DataFrame
    style: pl.DataFrame
    landing_style: pl.DataFrame


def _frame(schema, row):
    return pl.DataFrame([row], schema=schema)


@pytest.fixture
def given():
    """One row of each."""
    instant = datetime(2026, 11, 16, 9, 3, tzinfo=UTC)
    flag = {"flagged_landing_id": "x", "flagged_sequence": 40, "flagged_at": instant, "shift": 60.0, "open": True}
    return Given(
        _frame(frames.PILOT_OUTCOME, {"pilot": "P-1", "measure": "peak_g", "n": 40, "centre": 1.25}),
        _frame(
            frames.FAULT_SHARE,
            {"pilot": "P-1", "aircraft_type": "Teal 1", "fault": "float", "n": 40, "sessions": 20, "seen": 3}
            | {"share": 0.1, "share_low": 0.05, "share_high": 0.2, "untold": 2},
        ),
        _frame(
            frames.DRIFT_POINT,
            {"pilot": "P-1", "chart": "hard", "landing_id": "x", "sequence": 1, "residual": 3.5, "state": "learning"},
        ),
        _frame(frames.DRIFT_FLAG, {"pilot": "P-1", "chart": "long", **flag}),
        _frame(frames.CONSISTENCY, {"pilot": "P-1", "measure": "in_target_box", "n": 40, "sessions": 9, "value": 0.7}),
        _frame(frames.REVIEW, {"pilot": "P-1", "measure": "in_target_box", "said": "cannot tell yet"}),
        _frame(
            frames.STYLE, {"style": 1, "name": "late", "landings": 30, "share": 0.75, "feature": "f", "centre": 22.0}
        ),
        _frame(frames.LANDING_STYLE, {"landing_id": "x", "style": None, "probability": 0.6}),
    )


def test_results_come_back_as_they_were_loaded(con, given):
    """Each result frame goes through the warehouse without a change, the date beside it."""
    assert load_results(con, AS_OF, given, inputs_sha256="i")

    for mart, frame in (
        ("pilot_outcomes", given.pilot_outcome),
        ("fault_shares", given.fault_share),
        ("drift_points", given.drift_point),
        ("drift_flags", given.drift_flag),
        ("consistencies", given.consistency),
        ("reviews", given.review),
        ("styles", given.style),
        ("landing_styles", given.landing_style),
    ):
        back = marts.read(con, mart)
        assert back["as_of"].to_list() == [AS_OF]
        assert_frame_equal(frame, back.drop("as_of"))


def test_the_same_results_change_nothing(con, given, held):
    """Loading the same again touches no row."""
    load_results(con, AS_OF, given, inputs_sha256="i")
    before = held(con)

    assert not load_results(con, AS_OF, given, inputs_sha256="i")
    assert before == held(con)


def test_other_results_replace_those_of_their_date_only(con, given):
    """A date's rows are all replaced; another date's stay."""
    earlier = AS_OF - timedelta(weeks=1)
    load_results(con, earlier, given, inputs_sha256="i")
    load_results(con, AS_OF, given, inputs_sha256="i")
    other = replace(given, drift_flag=given.drift_flag.clear(), style=given.style.with_columns(name=pl.lit("early")))

    assert load_results(con, AS_OF, other, inputs_sha256="j")

    assert marts.read(con, "drift_flags")["as_of"].to_list() == [earlier]
    assert marts.read(con, "styles").select("as_of", "name").rows() == [(earlier, "late"), (AS_OF, "early")]


def test_the_same_inputs_with_other_results_replace(con, given):
    """A mended method that gives other numbers from the same landings is not taken for the old one."""
    load_results(con, AS_OF, given, inputs_sha256="i")
    mended = replace(given, pilot_outcome=given.pilot_outcome.with_columns(centre=pl.lit(1.3)))

    assert load_results(con, AS_OF, mended, inputs_sha256="i")
    assert marts.read(con, "pilot_outcomes")["centre"].to_list() == [1.3]


def test_results_are_replaced_whole_or_not_at_all(con, given, held):
    """When one frame cannot be stored, the date keeps all of its old rows."""
    load_results(con, AS_OF, given, inputs_sha256="i")
    before = held(con)
    broken = replace(given, landing_style=given.landing_style.with_columns(probability=pl.lit(float("nan"))))

    with pytest.raises(duckdb.ConstraintException):
        load_results(con, AS_OF, broken, inputs_sha256="j")

    assert before == held(con)


def test_the_statistics_of_no_landing_can_be_stored(con):
    """What the statistics say of an empty warehouse fits the tables."""
    landings = marts.read(con, "landing")

    assert load_results(con, AS_OF, weekly_statistics(landings, no_faults(), as_of=AS_OF), inputs_sha256="i")


def test_inputs_change_with_what_was_measured_or_corrected(con, landing, batch, at):
    """The hash follows measurements and context up to the date, and nothing after it."""
    load_batch(con, batch([landing("a", 0)]), at=at)
    first = inputs_sha256(con, AS_OF)
    later = {"flown_at": datetime(2026, 11, 23, 0, 0, tzinfo=UTC), "contact_t_s": 1.0}

    load_batch(con, batch([landing("b", 0, later)]), at=at)
    assert inputs_sha256(con, AS_OF) == first
    load_batch(con, batch([landing("a", 0, {"pilot": "P-BBBB2"})]), at=at)
    second = inputs_sha256(con, AS_OF)
    assert second != first
    load_batch(con, batch([landing("a", 0, {"pilot": "P-BBBB2", "peak_g": 1.7})]), at=at)
    assert inputs_sha256(con, AS_OF) not in (first, second)
    load_batch(con, batch([landing("a", 0)]), at=at)
    assert inputs_sha256(con, AS_OF) == first


def test_an_edition_is_noted_once(con, at):
    """The same edition again keeps the instant at which it was first written; with other inputs it gets a new one."""
    assert load_edition(con, AS_OF, week="2026-W47", inputs_sha256="i", at=at)
    assert not load_edition(con, AS_OF, week="2026-W47", inputs_sha256="i", at=at + timedelta(days=1))
    assert marts.read(con, "editions")["written_at"].to_list() == [at]

    assert load_edition(con, AS_OF, week="2026-W47", inputs_sha256="j", at=at + timedelta(days=2))
    assert marts.read(con, "editions")["written_at"].to_list() == [at + timedelta(days=2)]
