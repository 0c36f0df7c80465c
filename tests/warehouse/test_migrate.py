"""Bringing a database up to date: each step once, whole, never over another text."""

import duckdb
import pytest

from pipeline.errors import StoreError
from pipeline.measures.table import MEASURES
from warehouse import database, frames, marts, migrate
from warehouse.migrate import Step

FIRST = Step(1, "a", "create table a (x integer)")
SECOND = Step(2, "b", "create table b (x integer); insert into a values (1)")
BROKEN = Step(2, "b", "create table b (x integer); insert into nowhere values (1)")


@pytest.fixture
def empty():
    with duckdb.connect() as con:
        yield con


def _tables(con):
    return [name for (name,) in con.execute("select table_name from duckdb_tables() order by 1").fetchall()]


def test_steps_are_applied_once_and_in_order(empty):
    """A database gets the steps it lacks, and a second time none."""
    assert migrate.migrate(empty, name="x", todo=(FIRST,)) == 1

    assert migrate.migrate(empty, name="x", todo=(FIRST, SECOND)) == 1
    assert migrate.migrate(empty, name="x", todo=(FIRST, SECOND)) == 0
    assert empty.execute("select version, name from schema_version order by 1").fetchall() == [(1, "a"), (2, "b")]
    assert empty.execute("from a").fetchall() == [(1,)]


def test_a_step_that_fails_leaves_nothing(empty):
    """Half of a step is never there: the table it had made is gone, the steps before it stay."""
    with pytest.raises(duckdb.CatalogException):
        migrate.migrate(empty, name="x", todo=(FIRST, BROKEN))

    assert _tables(empty) == ["a", "schema_version"]
    assert migrate.migrate(empty, name="x", todo=(FIRST, SECOND)) == 1


def test_a_newer_database_is_refused(empty):
    """A database of a later program is left alone."""
    migrate.migrate(empty, name="x.duckdb", todo=(FIRST, SECOND))

    with pytest.raises(StoreError, match=r"x.duckdb: schema version 2 is newer than this program's 1; update"):
        migrate.migrate(empty, name="x.duckdb", todo=(FIRST,))


def test_a_changed_old_step_is_refused(empty):
    """A step whose text changed after it was applied is an error that names it."""
    migrate.migrate(empty, name="x.duckdb", todo=(FIRST,))

    with pytest.raises(StoreError, match=r"schema step 1 \(a\) was applied from another text"):
        migrate.migrate(empty, name="x.duckdb", todo=(Step(1, "a", "create table a (x bigint)"), SECOND))
    assert _tables(empty) == ["a", "schema_version"]


def test_a_reader_refuses_an_older_database(tmp_path):
    """A database that lacks steps is not read; the sentence says how to bring it up to date."""
    path = tmp_path / "x.duckdb"
    with duckdb.connect(str(path)) as con:
        migrate.migrate(con, name="x", todo=migrate.steps()[:3])

    with pytest.raises(StoreError, match=r"holds schema version 3.*ingest"), database.reader(path):
        pass
    with database.writer(path):
        pass
    with database.reader(path) as con:
        assert marts.read(con, "status")["schema_version"].to_list() == [len(migrate.steps())]


def _columns(con, table):
    return con.execute(
        "select column_name, data_type, comment from duckdb_columns() where table_name = ? and schema_name = 'main' "
        "and database_name = current_database() order by column_index",
        [table],
    ).fetchall()


def test_every_column_of_every_table_has_a_comment(con):
    """Unit, sign and meaning stand in the database itself."""
    bare = con.execute(
        "select table_name, column_name from duckdb_columns() "
        "where not internal and database_name = current_database() and table_name <> 'schema_version' "
        "and comment is null and table_name in (select table_name from duckdb_tables() where not temporary)"
    ).fetchall()

    assert bare == []


def test_the_measures_stand_as_their_table_says(con):
    """Columns, types and comments of measurement are those of the table of measures, in its order."""
    kinds = {"number": "DOUBLE", "flag": "BOOLEAN", "count": "BIGINT", "text": "VARCHAR"}
    wanted = []
    for measure in MEASURES:
        unit = f" Unit: {measure.unit}." if measure.unit else ""
        sure = (
            f"Standard uncertainty of {measure.name}.{unit}"
            if measure.kind == "number"
            else f"Confidence in {measure.name}, 0 to 1."
        )
        wanted += [
            (measure.name, kinds[measure.kind], measure.meaning + unit),
            (measure.quality, "DOUBLE", sure),
            (measure.reason, "VARCHAR", f"Why {measure.name} is null; null where it has a value."),
        ]
    there = _columns(con, "measurement")

    first = [name for name, _, _ in there].index(MEASURES[0].name)
    assert wanted == there[first:]


def test_no_number_can_be_other_than_finite(con):
    """Every column of doubles has a constraint that refuses what is no number."""
    doubles = con.execute(
        "select table_name, column_name from duckdb_columns() "
        "where not internal and data_type = 'DOUBLE' and database_name = current_database()"
        "and table_name in (select table_name from duckdb_tables() where not temporary)"
    ).fetchall()
    guarded = con.execute(
        "select table_name, unnest(constraint_column_names) from duckdb_constraints() "
        "where constraint_type = 'CHECK' and (constraint_text like '%isfinite%' or constraint_text like '%BETWEEN%')"
    ).fetchall()

    assert doubles
    assert set(doubles) <= set(guarded)


@pytest.mark.parametrize(
    ("table", "schema", "own"),
    [
        ("log", frames.LOG, {"landings", "ingested_at"}),
        ("approach", frames.APPROACH, {"context_key"}),
        ("contact", frames.CONTACT, {"measured_key"}),
        ("trace_file", frames.TRACE_FILE, set()),
        ("refusal", frames.REFUSAL, {"refused_at"}),
        ("measurement", frames.INPUTS | frames.MEASURES, {"landing_id", "measured_key", "superseded_at"}),
        ("pilot_outcome", frames.PILOT_OUTCOME, {"as_of"}),
        ("drift_point", frames.DRIFT_POINT, {"as_of"}),
        ("drift_flag", frames.DRIFT_FLAG, {"as_of"}),
        ("consistency", frames.CONSISTENCY, {"as_of"}),
        ("review", frames.REVIEW, {"as_of"}),
        ("style", frames.STYLE, {"as_of"}),
        ("landing_style", frames.LANDING_STYLE, {"as_of"}),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_tables_hold_what_the_frames_bring(con, table, schema, own):
    """A table has the columns of its frame and those the loader adds, and no other."""
    assert {*schema, *own} == {name for name, _, _ in _columns(con, table)}


def test_what_was_measured_before_more_measures_came_stays(empty):
    """A row keeps its values, and says of a measure it did not have that its definition was an earlier one."""
    names = {step.name: step.version for step in migrate.steps()}
    before = tuple(step for step in migrate.steps() if step.version < names["more_measures"])
    migrate.migrate(empty, name="x", todo=before)
    empty.execute(
        "insert into measurement (landing_id, measured_key, definition, constants, policy_sha256, map_sha256, peak_g, "
        "peak_g_u, bounces_reason) values ('a', 'k', '1', 'none', 'p', 'm', 1.31, 0.04, 'too_slow')"
    )

    migrate.migrate(empty, name="x")

    kept = empty.execute("select definition, peak_g, peak_g_u, bounces_reason, nose_lag_s_reason from measurement")
    assert kept.fetchall() == [("1", 1.31, 0.04, "too_slow", "earlier_definition")]
    with pytest.raises(duckdb.ConstraintException):
        empty.execute("update measurement set nose_lag_s = 'nan'::double")
