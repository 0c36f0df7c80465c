"""`roundout faults`: the rules are printed from their one table."""

import json

import pytest

from flows.command_line import main
from pipeline.faults.rules import FAULTS


def test_every_fault_is_printed_with_its_rule_and_source(capsys: pytest.CaptureFixture[str]) -> None:
    """Each stands in the listing with what it is, its limits and who says what to do."""
    assert main(["faults"]) == 0
    printed = capsys.readouterr().out

    for name, rule in FAULTS.items():
        assert f"{name}: {rule.words}\n" in printed
        assert rule.source in printed
    assert "where: float_time_s above float_s" in printed
    assert "limits, light: float_s = 8" in printed
    assert "lifted by: land_long" in printed


def test_json_holds_every_fault_once(capsys: pytest.CaptureFixture[str]) -> None:
    """A program reads the same rules, in the same order."""
    assert main(["faults", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["faults"]

    assert [row["fault"] for row in told] == list(FAULTS)
    assert next(row for row in told if row["fault"] == "hard")["limits"] == {"every profile": {"hard_fpm": 360.0}}


def test_a_name_no_fault_holds_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    """One line, exit status 2."""
    assert main(["faults", "flote"]) == 2
    assert 'no fault\'s name holds "flote"' in capsys.readouterr().err
