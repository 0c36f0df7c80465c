"""A folder of SQL in, its statements by file name out; found beside a checkout and inside an installed wheel."""

from functools import cache
from pathlib import Path

_HERE = Path(__file__).parent


def folder() -> Path:
    """Return where the SQL is: `warehouse/sql` in a wheel, `sql` beside this package in a checkout."""
    carried = _HERE / "sql"
    return carried if carried.is_dir() else _HERE.parent / "sql"


@cache
def statements(kind: str) -> dict[str, str]:
    """Return the text of each file of one folder ("schema", "staging", "marts" or "checks"), by name, in order."""
    return {path.stem: path.read_text(encoding="utf-8") for path in sorted((folder() / kind).glob("*.sql"))}
