"""Constants in the warehouse: every version kept, the one learned last given back."""

from datetime import UTC, datetime

import polars as pl

from pipeline.constants import CONSTANTS
from warehouse.constants import current_constants, keep_constants
from warehouse.database import in_memory

MONDAY, TUESDAY = datetime(2026, 3, 2, tzinfo=UTC), datetime(2026, 3, 3, tzinfo=UTC)


def version(name: str, *, recorder: str = "north-4", mean: float = 0.2) -> pl.DataFrame:
    """One version of one constant."""
    row = (name, recorder, "Tovik L2", "radio_delay_s", mean, 0.03, 40)
    return pl.DataFrame([row], schema=CONSTANTS, orient="row")


def test_the_version_learned_last_is_current() -> None:
    """A later version of an installation stands for it; another installation keeps its own."""
    with in_memory() as con:
        keep_constants(con, pl.concat([version("f1"), version("a9", recorder="south-8")]), at=MONDAY)
        keep_constants(con, version("b2", mean=0.25), at=TUESDAY)
        held = current_constants(con)
    assert held.rows() == [*version("b2", mean=0.25).rows(), *version("a9", recorder="south-8").rows()]


def test_a_version_held_already_stays() -> None:
    """The same version learned again changes nothing, not even when it was learned."""
    with in_memory() as con:
        keep_constants(con, version("f1"), at=MONDAY)
        keep_constants(con, version("f1"), at=TUESDAY)
        assert con.execute("select distinct learned_at from constant").fetchall() == [(MONDAY,)]


def test_nothing_learned_is_an_empty_frame() -> None:
    """A warehouse without constants gives none, in the columns measuring takes."""
    with in_memory() as con:
        assert current_constants(con).schema == pl.Schema(CONSTANTS)
