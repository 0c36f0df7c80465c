"""Bringing a table up to date: new rows in, changed rows changed, the rest untouched."""

import duckdb
import polars as pl

from warehouse.merge import Merge, differs

COLUMNS = ("id", "name", "notes")
MERGE = Merge("thing", "id", COLUMNS, differs("thing", COLUMNS), once=("made_at",))


def test_only_new_and_changed_rows_are_touched():
    """A changed text, list or null is an update, equal nulls are none, and what is given once stays."""
    with duckdb.connect() as con:
        con.execute("create table thing (id integer primary key, name varchar, notes varchar[], made_at integer)")
        con.execute(
            "insert into thing values (1, 'a', ['x'], 7), (2, null, [], 7), (3, null, ['x'], 7), (9, 'z', [], 7)"
        )
        incoming = {"id": [1, 2, 3, 4], "name": ["a", None, "c", "d"], "notes": [["x", "y"], [], ["x"], []]}
        con.register("incoming_thing", pl.DataFrame(incoming, schema_overrides={"notes": pl.List(pl.String)}))

        actions = sorted(action for (action,) in con.execute(MERGE.sql, {"made_at": 8}).fetchall())
        rows = con.execute("from thing order by id").fetchall()

    assert actions == ["INSERT", "UPDATE", "UPDATE"]
    assert rows == [(1, "a", ["x", "y"], 7), (2, None, [], 7), (3, "c", ["x"], 7), (4, "d", [], 8), (9, "z", [], 7)]
