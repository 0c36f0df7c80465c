"""Settings: what the file says is what the program does, and a fault is named by its key."""

import dataclasses
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from flows.settings import Settings, commented_text
from flows.settings_tables import GateTable, LimitsTable, PolicyTable, Table, TypeTable
from pipeline.errors import SettingsError
from pipeline.policy import AircraftType, Gate, Limits, Policy


def test_commented_text_is_the_defaults() -> None:
    """The file that `init` writes says exactly what an absent file means."""
    written = Settings.model_validate(tomllib.loads(commented_text()))

    assert written == Settings()
    assert written.rules == Policy()
    assert written.rules.sha256 == Policy().sha256


def _keys(table: type[Table]) -> set[str]:
    keys = set(table.model_fields)
    for field in table.model_fields.values():
        inner = field.annotation
        if isinstance(inner, type) and issubclass(inner, Table):
            keys |= _keys(inner)
    return keys


def test_commented_text_has_every_key() -> None:
    """No key is left for a user to guess: also those of the gates and of the types."""
    text = commented_text()

    for key in _keys(Settings) | set(GateTable.model_fields) | set(TypeTable.model_fields):
        assert re.search(rf"^(# )?(\w+ = .*|\[+.*)?\b{key}\b", text, re.MULTILINE), key


@pytest.mark.parametrize(
    ("table", "rules"),
    [(GateTable, Gate), (LimitsTable, Limits), (TypeTable, AircraftType)],
    ids=lambda kind: kind.__name__,
)
def test_tables_have_the_fields_of_the_policy(table: type[Table], rules: Any) -> None:
    """A rule that the policy knows can be set, and one it does not know cannot."""
    assert set(table.model_fields) == {field.name for field in dataclasses.fields(rules)}


def test_policy_table_and_types_cover_the_policy() -> None:
    """Policy and types together set every field of the policy."""
    assert {*PolicyTable.model_fields, "types"} == {field.name for field in dataclasses.fields(Policy)}


def test_absent_file_means_defaults(tmp_path: Path) -> None:
    """A workspace needs no settings file."""
    assert Settings.read(tmp_path / "roundout.toml") == Settings()


def test_values_reach_the_policy(tmp_path: Path) -> None:
    """What an operator sets is what the measuring code gets."""
    file = tmp_path / "roundout.toml"
    file.write_text(
        "[[policy.gates]]\nheight_ft = 500\nbank_max_deg = 20\n[policy.limits]\nhard_fpm = 300\n"
        '[types."Gull 2"]\nprofile = "light"\nvref_kt = 62\n'
    )

    rules = Settings.read(file).rules

    assert rules.gates == (Gate(500.0, bank_max_deg=20.0),)
    assert rules.limits == Limits(hard_fpm=300.0)
    assert rules.types == {"Gull 2": AircraftType(profile="light", vref_kt=62.0)}
    assert rules.sha256 != Policy().sha256


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("zone = 'Mars/North'", 'zone: "Mars/North" is not a time zone'),
        ("zone = '../etc/passwd'", "is not a time zone"),
        ("zon = 'UTC'", "zon: unknown key"),
        ("[policy]\nlimit = 3", "policy.limit: unknown key"),
        ("[policy.limits]\nhard_fpm = '360'", "policy.limits.hard_fpm: "),
        ("[policy.limits]\nhard_fpm = -1", "policy.limits.hard_fpm: "),
        ("[policy.limits]\nhard_fpm = nan", "policy.limits.hard_fpm: "),
        ("[policy.limits]\nhard_fpm = inf", "policy.limits.hard_fpm: "),
        ("[policy.limits]\nhard_fpm = true", "policy.limits.hard_fpm: "),
        ("[[policy.gates]]\nheight_ft = 7000", "policy.gates.1.height_ft: "),
        ("[[policy.gates]]\nheight_ft = 500\n[[policy.gates]]\nheight_ft = 500.0", "policy.gates: two gates have"),
        ("[[policy.gates]]\nbank_max_deg = 5", "policy.gates.1.height_ft: Field required"),
        ("[types.gull]\nprofile = 'heavy'", "types.gull.profile: "),
        ("[policy.faults.flote]\njudged = false", '"flote" is no fault'),
        ("[policy.faults.float]\nlimits = { float_ft = 4.0 }", '"float_ft" is none of its limits; it has float_s'),
        ("[schedule]\nweek = 'monday'", 'schedule.week: "monday" is not a schedule; write five fields'),
        ("[schedule]\nzone = 'Here'", "schedule.zone: "),
        ("[engine]\nworkers = 1.5", "engine.workers: "),
        ("[engine]\nbatch_logs = 0", "engine.batch_logs: "),
        ("[privacy]\nflag_seen_next_by = 'everyone'", "privacy.flag_seen_next_by: "),
        ("[keep]\noriginals = 'no'", "keep.originals: "),
        ("zone = ", "not TOML"),
        ("zone = 'UTC'\nzone = 'UTC'", "not TOML"),
    ],
)
def test_each_fault_names_its_key(tmp_path: Path, text: str, said: str) -> None:
    """A wrong settings file is refused with the file, the key and what was needed."""
    file = tmp_path / "roundout.toml"
    file.write_text(text)

    with pytest.raises(SettingsError) as refused:
        Settings.read(file)

    assert said in str(refused.value)
    assert str(file) in str(refused.value)
    assert "\n" not in str(refused.value) or "not TOML" in str(refused.value)


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    """Two faults need one look at the message, not two runs."""
    file = tmp_path / "roundout.toml"
    file.write_text("[engine]\nworkers = -1\nbatch_logs = 0\n")

    with pytest.raises(SettingsError, match=r"engine\.workers.*engine\.batch_logs"):
        Settings.read(file)


def test_settings_that_are_no_text_are_named(tmp_path: Path) -> None:
    """A binary file in the place of the settings ends in a sentence."""
    file = tmp_path / "roundout.toml"
    file.write_bytes(b"\xff\xfe\x00zone")

    with pytest.raises(SettingsError, match="cannot be read as text"):
        Settings.read(file)
