"""A connection in, its staging views and marts out.

The file of the database holds tables only. Views are made in each connection that reads a mart, so that they always are
those of the program that reads, also where the file is open read-only, and a connection that only loads is not delayed.
"""

from duckdb import DuckDBPyConnection

from warehouse import sql_files
from warehouse.catalogue import MARTS
from warehouse.statements import fetch


def ensure(con: DuckDBPyConnection) -> None:
    """Make every staging view, then every mart in the catalogue's order, for this connection alone, once."""
    marts = sql_files.statements("marts")
    texts = {**sql_files.statements("staging"), **{name: marts[name] for name in MARTS}}
    there = {name for (name,) in fetch(con, "select view_name from duckdb_views() where temporary and not internal")}
    for name, text in texts.items():
        if name not in there:
            con.execute(f"create temp view {name} as {text}")
