"""Pseudonyms: one person, one pseudonym; no name outside its one file."""

import csv
import stat
from pathlib import Path

import pytest

from flows.privacy import ALPHABET, Pseudonyms, rewrite_names
from pipeline.errors import SettingsError


@pytest.fixture
def pseudonyms(tmp_path: Path) -> Pseudonyms:
    return Pseudonyms(tmp_path / "key", tmp_path / "names.csv")


def test_same_person_same_pseudonym(pseudonyms: Pseudonyms) -> None:
    """Spaces, capitals and letter forms do not make another person; another name does."""
    assert pseudonyms.of("Ada  Quill ") == pseudonyms.of("ADA QUILL") == pseudonyms.of("ada quill")
    assert pseudonyms.of("Zoë Marsh") == pseudonyms.of("Zoe\u0308 Marsh")
    assert pseudonyms.of("Ada Quill") != pseudonyms.of("Ida Quill")


def test_blank_stays_blank(pseudonyms: Pseudonyms) -> None:
    """A landing whose pilot is not known is nobody's."""
    assert pseudonyms.of(None) is None
    assert pseudonyms.of("  ") is None


def test_pseudonym_stays_itself(pseudonyms: Pseudonyms) -> None:
    """A manifest that was rewritten means the same pilots when it is read again."""
    pseudonym = pseudonyms.of("Ada Quill")

    assert pseudonyms.of(pseudonym) == pseudonym


def test_pseudonyms_outlive_the_run(tmp_path: Path) -> None:
    """The next run gives the same pseudonyms, and both files are the owner's alone."""
    first = Pseudonyms(tmp_path / "key", tmp_path / "names.csv")
    given = first.of("Ada Quill")
    first.save()

    assert Pseudonyms(tmp_path / "key", tmp_path / "names.csv").of("ada quill") == given
    for file in ("key", "names.csv"):
        assert stat.S_IMODE((tmp_path / file).stat().st_mode) == 0o600
    with (tmp_path / "names.csv").open() as file:
        assert list(csv.DictReader(file)) == [{"pseudonym": given, "name": "Ada Quill"}]


def test_another_key_gives_other_pseudonyms(tmp_path: Path) -> None:
    """Without the key a roster does not tell who is who."""
    one = Pseudonyms(tmp_path / "key 1", tmp_path / "names 1.csv").of("Ada Quill")
    two = Pseudonyms(tmp_path / "key 2", tmp_path / "names 2.csv").of("Ada Quill")

    assert one != two


def test_ten_thousand_people_are_never_mixed(pseudonyms: Pseudonyms) -> None:
    """Two people whose hashes meet still have two pseudonyms (among 10,000 some five pairs meet), all of one form."""
    given = {pseudonyms.of(f"Pilot {number}") for number in range(10_000)}

    assert len(given) == 10_000
    assert all(name is not None and len(name) == 7 and set(name[2:]) <= set(ALPHABET) for name in given)


def test_no_sign_looks_like_another() -> None:
    """Zero, one and the letters that read as digits or each other are no signs."""
    assert not set("01OILSZBUAE") & set(ALPHABET)
    assert len(set(ALPHABET)) == 25


def test_a_lost_key_is_told(tmp_path: Path) -> None:
    """A new key would split every pilot in two, so none is made while names exist."""
    first = Pseudonyms(tmp_path / "key", tmp_path / "names.csv")
    first.of("Ada Quill")
    first.save()
    (tmp_path / "key").unlink()

    with pytest.raises(SettingsError, match="key of the pseudonyms is missing"):
        Pseudonyms(tmp_path / "key", tmp_path / "names.csv")
    assert not (tmp_path / "key").exists()


def test_a_spoilt_key_is_told(tmp_path: Path) -> None:
    """A key that is none is named; it is not replaced."""
    (tmp_path / "key").write_text("not hexadecimal")

    with pytest.raises(SettingsError, match="is not a key"):
        Pseudonyms(tmp_path / "key", tmp_path / "names.csv")


def test_manifest_is_rewritten(tmp_path: Path, pseudonyms: Pseudonyms) -> None:
    """Names give way to pseudonyms; commas, quotes, other letters and further columns stay."""
    manifest = tmp_path / "manifest.csv"
    manifest.write_text(
        'log_file,pilot,note,pilot_monitoring\n"a, b.csv",Ada Quill,"said ""late"" — ßé ok",Bo Fen\nc.csv,,plain,\n',
        encoding="utf-8",
    )

    assert rewrite_names(manifest, pseudonyms)
    with manifest.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))

    assert rows == [
        {
            "log_file": "a, b.csv",
            "pilot": pseudonyms.of("Ada Quill"),
            "note": 'said "late" — ßé ok',
            "pilot_monitoring": pseudonyms.of("Bo Fen"),
        },
        {"log_file": "c.csv", "pilot": "", "note": "plain", "pilot_monitoring": ""},
    ]
    assert not rewrite_names(manifest, pseudonyms)


def test_manifest_with_semicolons_is_rewritten(tmp_path: Path, pseudonyms: Pseudonyms) -> None:
    """The separator that was used is used again."""
    manifest = tmp_path / "manifest.csv"
    manifest.write_text("\ufefflog_file;pilot\na.csv;Ada Quill\n", encoding="utf-8")

    assert rewrite_names(manifest, pseudonyms)
    assert manifest.read_text("utf-8") == f"log_file;pilot\na.csv;{pseudonyms.of('Ada Quill')}\n"
