"""Which landings speak for a pilot and for a type, and which do not."""

from datetime import UTC, date, datetime, timedelta

import polars as pl

from pipeline.faults.judging import SCHEMA as FAULT
from pipeline.landing_frame import landing_schema
from pipeline.statistics.fault_shares import ALL, LAST, SCHEMA, fault_shares, no_faults

START = datetime(2026, 1, 5, 9, tzinfo=UTC)


def landings(n: int, **changes: object) -> pl.DataFrame:
    """Landings of one pilot, one a day."""
    rows = [
        {
            "landing_id": f"l{i:04d}",
            "log_sha256": f"{i:064x}",
            "contact_t_s": 100.0,
            "contact_at": START + timedelta(days=i),
            "pilot": "P-1",
            "aircraft": "A-1",
            "aircraft_type": "Tovik L2",
            "landing_mode": "manual",
            **changes,
        }
        for i in range(n)
    ]
    return pl.DataFrame(rows, schema=landing_schema())


def floats(frame: pl.DataFrame, first: int) -> pl.DataFrame:
    """Fault rows: the first so many floated, the others did not."""
    p = [1.0 if i < first else 0.0 for i in range(frame.height)]
    return pl.DataFrame(
        {"landing_id": frame["landing_id"], "fault": ["no_flare"] * frame.height, "probability": p},
        schema_overrides=FAULT,
    ).with_columns(verdict=pl.lit("seen"), value=None, value_u=None, limit_value=None, given=1.0, reason=None)


def test_a_pilot_is_shown_by_his_last_landings() -> None:
    """What was usual long ago does not stand in the share of the last landings."""
    frame = landings(LAST + 50)
    found = fault_shares(floats(frame, 50), frame, as_of=date(2026, 12, 31)).filter(pl.col("pilot") == "P-1")
    assert found.select("n", "share").row(0) == (LAST, 0.0)


def test_a_type_is_shown_over_whole_months() -> None:
    """The running month is left out of the figure of all pilots, and kept in the pilot's own."""
    frame = landings(60)
    found = fault_shares(floats(frame, 0), frame, as_of=date(2026, 3, 5))
    counted = dict(found.select("pilot", "n").rows())
    assert counted == {"P-1": 60, ALL: 55}


def test_exercises_and_automatic_landings_speak_for_nobody() -> None:
    """Landings that are not routine enter no share."""
    for change in ({"exercise": "flapless"}, {"landing_mode": "automatic"}, {"device": "qualified_simulator"}):
        frame = landings(60, **change)
        assert fault_shares(floats(frame, 60), frame, as_of=date(2026, 12, 31)).is_empty()


def test_without_landings_there_is_an_empty_frame() -> None:
    """Nothing judged gives the columns and no row."""
    assert fault_shares(no_faults(), landings(0), as_of=date(2026, 12, 31)).schema == pl.Schema(SCHEMA)
