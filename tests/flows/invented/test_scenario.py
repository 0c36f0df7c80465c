"""What is written for the operator and what is known of it."""

import ast
import gzip
from pathlib import Path

import polars as pl
import pytest

from flows.invented import scenario
from flows.invented.scenario import LAST_DAY, write_scenario
from flows.invented.truth import Truth

TABLES = {"manifest.csv", "exposure.csv", "runways.csv"}


def _logs(inbox: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in inbox.iterdir() if path.is_file() and path.name not in TABLES}


def test_the_same_seed_writes_the_same_bytes_and_truth(small: tuple[Path, Truth], tmp_path: Path) -> None:
    """Another seed writes others."""
    inbox, truth = small
    again = write_scenario(tmp_path / "a", landings=0.03, seed=7)
    other = write_scenario(tmp_path / "b", landings=0.03, seed=8)

    assert _logs(inbox) == _logs(tmp_path / "a")
    assert truth.landings.equals(again.landings)
    assert (inbox / "manifest.csv").read_text() == (tmp_path / "a" / "manifest.csv").read_text()
    assert not truth.landings.equals(other.landings)


def test_worker_processes_change_nothing(
    small: tuple[Path, Truth], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same files and truth come from two processes as from one; progress ends at all approaches."""
    inbox, truth = small
    monkeypatch.setattr(scenario, "POOL_FROM_LANES", 1)
    told: list[tuple[int, int]] = []
    again = write_scenario(tmp_path, landings=0.03, seed=7, progress=lambda done, of: told.append((done, of)))

    assert _logs(inbox) == _logs(tmp_path)
    assert truth.landings.equals(again.landings)
    assert (truth.landings.height, truth.landings.height) == told[-1]


def test_every_log_is_in_the_manifest_but_the_broken_ones(small: tuple[Path, Truth]) -> None:
    """Five broken logs: empty, cut short, words for times, no table, a sentence."""
    inbox, truth = small
    manifest = pl.read_csv(inbox / "manifest.csv", infer_schema_length=None)
    logs = _logs(inbox)
    broken = set(logs) - set(manifest["log_file"])

    assert set(manifest["log_file"]) == set(truth.landings["log_file"])
    assert len(broken) == 5
    assert b"" in [logs[name] for name in broken]
    with pytest.raises(EOFError):
        gzip.decompress(next(logs[name] for name in broken if name.endswith(".gz")))


def test_truth_has_one_row_an_approach_and_counts_contacts(small: tuple[Path, Truth]) -> None:
    """Landing numbers of a log run from 0 over its contacts; approaches without contact have none and no values."""
    _, truth = small
    frame = truth.landings
    touched = frame.filter(pl.col("contact_t_s").is_not_null())
    missed = frame.filter(pl.col("contact_t_s").is_null())

    assert frame.height == frame.unique(["log_file", "approach_index"]).height
    for (_,), log in touched.group_by("log_file"):
        assert list(range(log.height)) == sorted(log["landing_index"].to_list())
    assert missed["landing_index"].null_count() == missed.height
    assert missed["vertical_speed_at_contact_fpm"].null_count() == missed.height
    assert not any(frame[name].is_nan().any() for name in frame.select(pl.selectors.float()).columns)


def test_logs_are_small(small: tuple[Path, Truth]) -> None:
    """At most 90 kB an approach, so that 3,200 of them stay below 300 MB."""
    inbox, truth = small

    assert sum(map(len, _logs(inbox).values())) / truth.landings.height < 90_000


def test_exposure_holds_at_least_what_was_logged(small: tuple[Path, Truth]) -> None:
    """Landings flown by pilot, aircraft and month are as many as the logs hold, or a few more."""
    inbox, truth = small
    flown = pl.read_csv(inbox / "exposure.csv")["landings_flown"].sum()
    logged = truth.landings.filter(pl.col("contact_t_s").is_not_null() & pl.col("pilot_in_manifest").is_not_null())

    assert logged.height <= flown <= 1.5 * logged.height


def test_solo_is_one_pilot_one_aircraft_one_field(tmp_path: Path) -> None:
    """And no broken logs; the recorder speaks canonical names, so there is no map."""
    truth = write_scenario(tmp_path, solo=True, landings=0.1)
    frame = truth.landings

    assert (frame["pilot"].n_unique(), frame["aircraft"].n_unique()) == (1, 1)
    assert {"Undry 08", "Undry 26"} >= set(frame["runway"])
    assert set(_logs(tmp_path)) == set(frame["log_file"])
    assert list((tmp_path / "maps").iterdir()) == []
    assert frame["started_at"].max().date() <= LAST_DAY


def test_the_invented_import_no_measuring_code() -> None:
    """Only numpy, polars, the standard library and each other."""
    outside = set()
    for path in Path(scenario.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                outside.add(node.module)
            elif isinstance(node, ast.Import):
                outside |= {alias.name for alias in node.names}

    ours = {name for name in outside if name.split(".")[0] in {"pipeline", "warehouse", "reports", "flows"}}
    others = {name.split(".")[0] for name in outside - ours}
    assert all(name.startswith("flows.invented") for name in ours)
    assert others & {"numpy", "polars"} == {"numpy", "polars"}
    assert others.isdisjoint({"scipy", "pyproj", "pint", "pyarrow", "duckdb", "sklearn", "zstandard"})
