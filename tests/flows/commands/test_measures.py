"""`roundout measures`: the documentation of the measures is printed from their one definition."""

import json

import pytest

from flows.command_line import main
from pipeline.measures.table import DEFINITION, MEASURES, REASONS


def test_every_measure_is_printed_with_its_meaning(capsys: pytest.CaptureFixture[str]) -> None:
    """Each stands in the listing by name; none of its definition is cut off where it is no terminal that reads it."""
    assert main(["measures"]) == 0
    printed = capsys.readouterr().out
    words = " ".join(printed.split())

    for measure in MEASURES:
        assert f" {measure.name} " in printed
        assert measure.meaning in words
    for reason in REASONS:
        assert f"  {reason} " in printed
    assert f"Definition {DEFINITION}." in printed


def test_json_holds_every_measure_once(capsys: pytest.CaptureFixture[str]) -> None:
    """A program reads the same definitions, in the same order, with the columns they stand in."""
    assert main(["measures", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)

    assert [row["measure"] for row in told["measures"]] == [measure.name for measure in MEASURES]
    assert [row["quality"] for row in told["measures"]] == [measure.quality for measure in MEASURES]
    assert set(told["reasons"]) == set(REASONS)


def test_part_of_a_name_narrows_the_listing(capsys: pytest.CaptureFixture[str]) -> None:
    """Only what holds one of the parts is listed."""
    assert main(["measures", "--json", "flare_height", "nose"]) == 0
    listed = [row["measure"] for row in json.loads(capsys.readouterr().out)["measures"]]

    assert {"flare_height_ft", "nose_lag_s"} <= set(listed)
    assert all("flare_height" in name or "nose" in name for name in listed)


def test_a_name_no_measure_holds_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    """One line, exit status 2."""
    assert main(["measures", "flair"]) == 2
    assert 'no measure\'s name holds "flair"' in capsys.readouterr().err
