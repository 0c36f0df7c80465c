"""What a manifest says, which log it means, and the sentence when it cannot be used."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import polars as pl
import pytest

from pipeline.context import CONTEXT
from pipeline.errors import ManifestError
from pipeline.reading.manifest import CHOICES, FIELDS, read_manifest

Manifest = Callable[..., pl.DataFrame]
LOGS = ("a.csv", "day 1/b.csv", "day 2/b.csv", "day 2/c.csv.gz", 'it\'s "odd" <b>.csv', "..dots..csv")


@pytest.fixture
def manifest(tmp_path: Path) -> Manifest:
    def write_and_read(said: str | bytes, logs: tuple[str, ...] = LOGS) -> pl.DataFrame:
        path = tmp_path / "manifest.csv"
        path.write_bytes(said if isinstance(said, bytes) else said.encode())
        return read_manifest(path, logs)

    return write_and_read


def test_every_column_has_its_type_and_blanks_are_null(manifest: Manifest) -> None:
    """Numbers, instants, words and texts are typed; absent and blank are null; other columns are tags."""
    found = manifest(
        "log_file,flown_at,pilot,device,vref_kt,landing_index,cabin crew,gust_kt,note\n"
        'a.csv,2026-11-25T10:00:00+02:00, Nour ,Qualified_Simulator,121.5,,4,,"said ""hm""\nand went"\n'
        "a.csv,,,,,0,,25,\n"
    )

    assert ["line", *FIELDS, "tags"] == found.columns
    first, second = found.rows(named=True)
    assert (datetime(2026, 11, 25, 8, tzinfo=UTC), "Nour", "qualified_simulator", 121.5) == (
        first["flown_at"],
        first["pilot"],
        first["device"],
        first["vref_kt"],
    )
    assert (
        first["note"],
        json.loads(first["tags"]),
        first["landing_index"],
    ) == ('said "hm"\nand went', {"cabin crew": "4"}, None)
    assert tuple(second[name] for name in ("line", "landing_index", "gust_kt", "pilot", "device", "tags")) == (
        4,
        0,
        25.0,
        None,
        None,
        None,
    )


def test_all_that_measuring_knows_of_a_landing_can_be_said_in_a_manifest() -> None:
    """Columns and types agree with what measuring takes."""
    assert {name: FIELDS[name].dtype for name in CONTEXT} == CONTEXT


def test_column_names_are_known_in_any_case_and_with_spaces(manifest: Manifest) -> None:
    """A pilot under Pilot is no tag: landings would lose their pilot without a word."""
    found = manifest("Log_File,Pilot,Vref kt,PILOT-MONITORING,Cabin Crew\na.csv,Nour,120,Ilse,4\n")

    assert found.select("log_file", "pilot", "vref_kt", "pilot_monitoring", "tags").rows() == [
        ("a.csv", "Nour", 120.0, "Ilse", '{"Cabin Crew": "4"}')
    ]


def test_a_blank_pilot_is_no_error(manifest: Manifest) -> None:
    """A landing without a pilot is measured, unattributed."""
    assert manifest("log_file,pilot\na.csv,\n")["pilot"].to_list() == [None]


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("a.csv", "a.csv"),
        ("./a.csv", "a.csv"),
        ("day 1/../a.csv", "a.csv"),
        ("day 1\\b.csv", "day 1/b.csv"),
        ("c.csv.gz", "day 2/c.csv.gz"),
        ("../elsewhere/a.csv", "a.csv"),
        ("..dots..csv", "..dots..csv"),
        ('it\'s "odd" <b>.csv', 'it\'s "odd" <b>.csv'),
    ],
)
def test_a_log_is_meant_by_its_path_or_by_a_name_that_is_its_own(manifest: Manifest, written: str, meant: str) -> None:
    """Paths are relative to the manifest; a bare name does where one log has it."""
    quoted = '"' + written.replace('"', '""') + '"'

    assert [meant] == manifest(f"log_file\n{quoted}\n")["log_file"].to_list()


@pytest.mark.parametrize("how", ["utf-8", "utf-8-sig", "latin-1", "utf-16"])
@pytest.mark.parametrize("separator", [",", ";", "\t"], ids=["comma", "semicolon", "tab"])
def test_a_table_saved_by_any_office_program_is_read(manifest: Manifest, how: str, separator: str) -> None:
    """Encoding and separator are told from the file."""
    said = separator.join(["log_file", "pilot"]) + "\r\n" + separator.join(["a.csv", "Zoë"]) + "\r\n\r\n"

    assert manifest(said.encode(how)).select("log_file", "pilot").rows() == [("a.csv", "Zoë")]


def test_decimals_with_a_comma_are_read_in_a_semicolon_table(manifest: Manifest) -> None:
    """Where semicolons part the columns, 121,5 is a number."""
    assert manifest("log_file;vref_kt\na.csv;121,5\n")["vref_kt"].to_list() == [121.5]


WRONG = {
    "unknown log": ("log_file\nz.csv\n", "line 2: log_file = 'z.csv' names no log; bring the log or take the row out"),
    "other folder": ("log_file\nday 3/c.csv.gz\n", "names no log; meant may be day 2/c.csv.gz"),
    "not its own": (
        "log_file\nb.csv\n",
        "line 2: log_file = 'b.csv' may be day 1/b.csv or day 2/b.csv; write its path",
    ),
    "twice": ("log_file\na.csv\n./a.csv\n", "line 3: says again what line 2 says of the same log or landing"),
    "landing twice": ("log_file,landing_index\na.csv,1\na.csv,\na.csv,1\n", "line 4: says again what line 2"),
    "word": ("log_file,role\na.csv,boss\n", "role = 'boss' is not one of line, training, instructing, check"),
    "number": ("log_file,vref_kt\na.csv,fast\n", "vref_kt = 'fast' is not a number from 20 to 400"),
    "no number": ("log_file,gust_kt\na.csv,nan\n", "gust_kt = 'nan' is not a number"),
    "range": ("log_file,wind_from_true_deg\na.csv,361\n", "not a number from 0 to 360"),
    "index": ("log_file,landing_index\na.csv,-1\n", "landing_index = '-1' is not a whole number, 0 or more"),
    "time": ("log_file,flown_at\na.csv,25/11/2026\n", "flown_at = '25/11/2026' is not a time such as 2026-11-25T"),
    "blank log": ("log_file,pilot\n,Nour\n", "line 2: log_file is blank"),
    "too many": ("log_file,note\na.csv,one,two\n", "line 2: 3 cells under 2 columns"),
    "no log column": ("log,pilot\na.csv,Nour\n", "column log_file is missing; the columns are log, pilot"),
    "column twice": ("log_file,pilot,pilot\na.csv,,\n", "column pilot is there twice"),
    "column twice in two cases": ("log_file,pilot,Pilot\na.csv,,\n", "column pilot is there twice"),
    "empty": ("", "has no header"),
    "not text": (b"PK\x03\x04\0\0", "not a CSV table"),
}


@pytest.mark.parametrize(("said", "sentence"), WRONG.values(), ids=WRONG)
def test_a_wrong_manifest_is_refused_by_file_and_line(manifest: Manifest, said: str, sentence: str) -> None:
    """The message names the file, the line, the column, and what was needed."""
    with pytest.raises(ManifestError) as caught:
        manifest(said)

    assert sentence in str(caught.value)
    assert str(caught.value).startswith("manifest.csv: ")


def test_up_to_five_problems_are_told_at_once(manifest: Manifest) -> None:
    """Problems come in order of line, and those beyond five are counted; lines are the file's own."""
    rows = "".join(f'a.csv,{i},"two\nlines",fast\n' for i in range(7))

    with pytest.raises(ManifestError) as caught:
        manifest(f"log_file,landing_index,note,vref_kt\n{rows}")

    assert str(caught.value).count("vref_kt = 'fast'") == 5
    assert str(caught.value).startswith("manifest.csv: line 3: ")
    assert str(caught.value).endswith("; and 2 more")


def test_a_manifest_that_is_not_there_is_said(tmp_path: Path) -> None:
    """A path that is no file is said with its path."""
    with pytest.raises(ManifestError, match=r"none.csv: cannot be read from .*none.csv"):
        read_manifest(tmp_path / "none.csv", LOGS)


def test_every_word_listed_can_be_said(manifest: Manifest) -> None:
    """Each column takes all its words, and they are columns of the manifest."""
    for name, words in CHOICES.items():
        rows = "".join(f"a.csv,{i},{word}\n" for i, word in enumerate(words))

        assert list(words) == manifest(f"log_file,landing_index,{name}\n{rows}")[name].to_list()


def test_a_nearly_known_column_is_refused(tmp_path):
    """A misspelt column would go unread, and a name in it would stay in clear."""
    file = tmp_path / "manifest.csv"
    file.write_text("log_file,pilto\na.csv,Ada Quill\n")

    with pytest.raises(ManifestError, match=r"column 'pilto' is not known; did you mean pilot\?"):
        read_manifest(file, ["a.csv"])
