"""What a drift flag says, and what it leaves open."""

from dataclasses import replace
from datetime import UTC, datetime

import polars as pl

from reports.flags import other_causes, sentence, who_next
from reports.training import training_page

FLAG = {
    "chart": "long",
    "shift": 180.0,
    "shift_low": 90.0,
    "shift_high": 270.0,
    "shift_sd": 0.6,
    "landings_since_change": 21,
    "change_at": datetime(2026, 10, 3, tzinfo=UTC),
    "chance_real": 0.83,
    "source": "pilot",
}


def test_a_flag_says_when_how_far_how_sure_and_how_often_it_is_wrong():
    """One sentence a pilot can act on, with the simulated false-alarm rate."""
    said = sentence(FLAG, false_alarms="About 1 false flag in 1,000 landings.")

    assert "since about 3 October 2026 (21 watched landings)" in said
    assert "180 ft longer than before (90 % interval 90 to 270), 0.6 times your own usual spread" in said
    assert "About 1 false flag in 1,000 landings." in said
    assert said.endswith("about 8 in 10 flags like it are real.")
    assert "9 in 10" in sentence(FLAG | {"chance_real": 0.9999}, false_alarms="")


def test_where_nobody_else_flew_the_aircraft_it_may_be_the_recorder():
    """Others who changed too point at the recorder, none leave it open, others who did not leave nothing to say."""
    said = {source: other_causes(FLAG | {"source": source}) for source in ("pilot", "recorder", "cannot tell")}

    assert said["pilot"] is None
    assert "may be its recorder" in (said["recorder"] or "")
    assert "you or the recorder" in (said["cannot tell"] or "")


def test_who_sees_a_flag_is_printed_as_the_settings_say(edition):
    """Nobody by default; with the setting, training from the next edition on."""
    assert "nobody else" in who_next("nobody")
    assert "next edition" in who_next("training")


def test_the_training_page_names_only_flags_an_earlier_edition_showed_the_pilot(edition):
    """The pilot sees a new flag first, whatever the setting."""
    data = edition(pilots=8, each=60)
    new, old = datetime(2026, 11, 18, tzinfo=UTC), datetime(2026, 11, 3, tzinfo=UTC)
    base = {**FLAG, "flagged_landing_id": "x", "flagged_sequence": 50, "change_landing_id": "y", "change_sequence": 30}
    rows = [base | {"pilot": p, "flagged_at": at, "open": True} for p, at in (("P-00001", new), ("P-00002", old))]
    flags = pl.DataFrame(rows, schema=data.drift_flags.schema)
    rows = [{"pilot": p, "landing_id": p, "standing": 0.1, "contact_at": old} for p in data.pilots()]
    points = pl.DataFrame(rows, schema_overrides={"contact_at": pl.Datetime("us", "UTC")})
    told = replace(data, drift_flags=flags, drift_points=points, flag_seen_next_by="training")

    pages = [training_page(d, d.flown()) for d in (told, replace(told, flag_seen_next_by="nobody"))]

    assert ["P-00002" in page for page in pages] == [True, False]
    assert not any("P-00001" in page for page in pages)
