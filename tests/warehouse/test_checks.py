"""Every check passes on sound rows and finds the one fault it is for."""

import re

import pytest

from pipeline.measures.table import REASONS
from warehouse import sql_files
from warehouse.checks import failed, run_checks
from warehouse.load import load_batch

FAULTS = {
    "approach_without_log": "delete from log",
    "measurement_without_approach": "delete from approach",
    "contact_without_measurement": "delete from measurement",
    "gate_without_measurement": "delete from measurement",
    "expected_without_measurement": "delete from measurement",
    "fault_without_measurement": "delete from measurement",
    "trace_without_approach": "insert into trace_file values ('nobody', 'x.parquet')",
    "result_without_approach": "insert into landing_style values ('2026-11-22', 'nobody', 1, 0.9)",
    "result_without_result_set": "insert into landing_style select '2026-11-22', landing_id, 1, 0.9 from approach",
    "two_current_measurements": (
        "insert into measurement by name select * replace ('other' as measured_key) from measurement"
    ),
    "approach_without_measurement": "delete from measurement",
    "value_and_reason": "update measurement set peak_g_reason = 'gap'",
    "value_without_quality": "update measurement set bounces_confidence = null",
    "unknown_reason": "update measurement set peak_g = null, peak_g_u = null, peak_g_reason = 'because'",
    "outcome_and_contact": "update approach set outcome = 'go_around'",
    "landing_index_gap": "update approach set landing_index = landing_index + 1",
    "approach_index_gap": "update approach set approach_index = approach_index + 1",
    "contact_index_gap": "update contact set contact_index = contact_index + 1",
    "contact_without_instant": "update approach set contact_t_s = null, contact_at = null",
    "contact_outside_log": "update log set duration_s = 150",
    "climbing_at_contact": "update measurement set vertical_speed_at_contact_fpm = 40",
    "instant_disagrees": "update approach set contact_at = contact_at + interval 1 second",
}


@pytest.fixture
def sound(con, landing, go_around, batch, at):
    """A warehouse with sound rows: two landings and a go-around."""
    below = {"vertical_speed_at_contact_fpm": -150.0}
    rows = [landing("a", 0, below), landing("a", 1, go_around), landing("b", 0, below)]
    load_batch(con, batch(rows), at=at)
    return con


def test_sound_rows_pass_every_check(sound):
    """No check offends where nothing is wrong, and an empty frame stands for each that passed."""
    results = run_checks(sound)

    assert set(results) == set(FAULTS) == set(sql_files.statements("checks"))
    assert failed(results) == {}


@pytest.mark.parametrize("check", FAULTS)
def test_a_fault_is_found(sound, check):
    """A fault put into the tables by hand is found by the check of that name."""
    sound.execute(FAULTS[check])

    assert failed(run_checks(sound))[check] >= 1


def test_neither_value_nor_reason_is_found(sound):
    """A measure that is null without a reason offends too, and the row names landing and measure."""
    sound.execute("update measurement set peak_g = null, peak_g_u = null where landing_id in (from (values ('x')))")
    assert failed(run_checks(sound)) == {}

    sound.execute("update measurement set peak_g = null, peak_g_u = null")

    found = run_checks(sound)["value_and_reason"]
    assert found["measure"].unique().to_list() == ["peak_g"]
    assert found.height == 3


def test_every_check_says_what_offends():
    """The first line of a check says what its rows mean."""
    assert all(text.startswith("-- Offends: ") for text in sql_files.statements("checks").values())


def test_known_reasons_are_those_of_the_table():
    """The check and the table of measures list the same reasons."""
    listed = re.findall(r"'(\w+)'", sql_files.statements("checks")["unknown_reason"].split("not in")[1])
    assert sorted(REASONS) == sorted(listed)
