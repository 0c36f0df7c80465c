"""A workspace in; out: the proof that everything that is held is there and whole, or what is not and how to mend it.

Nothing is changed. The copy of a log as it came has the hash the log was accepted by, and its table the hash that was
noted then; where none was noted, the table is held against the copy, and where no copy is kept
either, its rows are counted. Traces are named by their content; the warehouse passes its checks, and its counts agree.
"""

import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import polars as pl

from flows.progress import Progress, silent
from flows.quarantine import REASON, place
from flows.table_hashes import file_sha256, hashes_kept
from flows.workspace import Workspace
from pipeline.errors import LogError, MapError
from pipeline.reading.channel_map import canonical_map, load_map
from pipeline.reading.tabulate import content_sha256, tabulate
from warehouse.checks import failed, run_checks
from warehouse.database import reader
from warehouse.keys import frame_sha256
from warehouse.marts import read

_BRING = "bring the log again with roundout ingest"
_BACKUP = "put the file back from a copy"
_HASH_SIGNS = 64


@dataclass(frozen=True)
class Fault:
    """Something that is not as it should be: of what, what was found, how to mend it."""

    what: str
    found: str
    mend: str


@dataclass
class Verified:
    """What was looked at, and what is wrong with it.

    `by_content` logs were proved by a hash, `by_rows` have only their rows counted, since neither a hash was noted nor
    a copy kept. `traces` counts files.
    """

    logs: int = 0
    by_content: int = 0
    by_rows: int = 0
    landings: int = 0
    traces: int = 0
    refused: int = 0
    checks: int = 0
    faults: list[Fault] = field(default_factory=list)


@dataclass(frozen=True)
class _Log:
    """One accepted log; `table_sha256` is None where none was noted."""

    sha256: str
    name: str
    rows: int
    table_sha256: str | None


def verify(workspace: Workspace, *, tell: Progress | None = None) -> Verified:
    """Look at everything a workspace holds.

    Raises
    ------
    SettingsError
        It holds nothing yet.
    StoreError
        Another run holds it, or the warehouse cannot be opened.
    """
    workspace.require_warehouse()
    with workspace.held():
        with reader(workspace.database) as con:
            logs, traces, refusals = (read(con, name) for name in ("logs", "trace_files", "refusals"))
            status = read(con, "status").row(0, named=True)
            checks = run_checks(con)
        done = Verified(logs.height, landings=status["landings"], refused=refusals.height, checks=len(checks))
        for name, rows in failed(checks).items():
            done.faults.append(Fault(f"check {name}", f"{rows} rows it should not find", "please report it"))
        done.faults += _counts(logs, status)
        done.faults += _strays(workspace, logs)
        done.faults += _quarantine(workspace, refusals)
        done.faults += _maps(workspace, logs)
        _traces(workspace, traces, done)
        _logs(workspace, logs, done, tell or silent)
    return done


def _counts(logs: pl.DataFrame, status: dict[str, int]) -> Iterator[Fault]:
    """The warehouse's own counts, taken in two ways."""
    for what, column in (("logs", None), ("landings", "landings"), ("approaches", "approaches")):
        counted = logs.height if column is None else int(logs[column].sum())
        if counted != status[what]:
            yield Fault("the warehouse", f"{status[what]} {what}, {counted} counted by log", "please report it")


def _strays(workspace: Workspace, logs: pl.DataFrame) -> Iterator[Fault]:
    """Tables of logs the warehouse does not know, as a run leaves that was killed; the next one takes them."""
    tables = {path.stem for path in workspace.logs.glob("*.parquet") if len(path.stem) == _HASH_SIGNS}
    for sha256 in sorted(tables - set(logs["log_sha256"])):
        path = workspace.logs / f"{sha256}.parquet"
        yield Fault(str(path), "the warehouse holds no such log", f"roundout ingest {path}")


def _quarantine(workspace: Workspace, refusals: pl.DataFrame) -> Iterator[Fault]:
    for sha256, name in refusals.select("log_sha256", "log_file").iter_rows():
        path = place(workspace, sha256, name)
        if not path.exists():
            yield Fault(str(path), f"the refused log {name} is gone", _BRING)
        elif not path.with_name(path.name + REASON).exists():
            yield Fault(str(path), "its reason is not beside it", f"roundout retry {name}")


def _maps(workspace: Workspace, logs: pl.DataFrame) -> Iterator[Fault]:
    """Each map that a log was read by; a log that bears the canonical names needs none."""
    for sha256, name in logs.select("map_sha256", "map_name").unique(maintain_order=True).iter_rows():
        path = workspace.kept_maps / f"{sha256}.toml"
        if not path.exists():
            of_map = logs.filter(map_sha256=sha256)
            if not any(_is_canonical(workspace, one) for one in of_map["log_sha256"]):
                yield Fault(str(path), f"the map {name} of {of_map.height} logs is gone", _BACKUP)
            continue
        try:
            found = load_map(path).sha256
        except MapError as error:
            yield Fault(str(path), str(error), _BACKUP)
        else:
            if found != sha256:
                yield Fault(str(path), f"says something else than {name} said", _BACKUP)


def _is_canonical(workspace: Workspace, log_sha256: str) -> bool:
    path = workspace.logs / f"{log_sha256}.parquet"
    return not path.exists() or canonical_map(tuple(pl.read_parquet_schema(path))) is not None


def _traces(workspace: Workspace, traces: pl.DataFrame, done: Verified) -> None:
    """Each file of traces by its content, with the landings that are said to be in it."""
    mend = "take it away if it is there, then roundout remeasure --again writes it anew"
    for (name,), rows in traces.group_by("trace_file", maintain_order=True):
        path = workspace.traces / str(name)
        done.traces += 1
        if not path.is_file():
            done.faults.append(Fault(str(path), f"the traces of {rows.height} landings are gone", mend))
            continue
        try:
            held = pl.read_parquet(path, glob=False)
            whole = frame_sha256([held])[:16] == path.stem
            lacking = rows.join(held, on="landing_id", how="anti").height
        except (pl.exceptions.PolarsError, OSError) as error:
            done.faults.append(Fault(str(path), f"cannot be read ({error})", mend))
            continue
        if not whole or lacking:
            found = f"lacks {lacking} landings" if lacking else "was altered since it was written"
            done.faults.append(Fault(str(path), found, mend))


def _logs(workspace: Workspace, logs: pl.DataFrame, done: Verified, tell: Progress) -> None:
    """Each accepted log: its table, and the copy as it came."""
    noted = hashes_kept(workspace)
    rows = logs.select("log_sha256", "log_file", "log_rows").iter_rows()
    with tempfile.TemporaryDirectory(prefix="roundout-") as folder:
        for number, (sha256, name, count) in enumerate(rows, 1):
            try:
                _log(workspace, _Log(sha256, name, count, noted.get(sha256)), done, Path(folder))
            except (pl.exceptions.PolarsError, OSError, LogError) as error:
                table = workspace.logs / f"{sha256}.parquet"
                done.faults.append(Fault(str(table), f"{name}: cannot be read ({error})", _BRING))
            tell("verifying", number, logs.height)


def _log(workspace: Workspace, log: _Log, done: Verified, folder: Path) -> None:
    """One log: its copy as it came, then its table by the hash noted, or by what the copy gives, or by its rows."""
    table = workspace.logs / f"{log.sha256}.parquet"
    copies = sorted(workspace.originals.glob(f"{log.sha256[:16]}-*"))
    mend = f"roundout ingest {copies[0]}" if copies else _BRING
    if not table.is_file():
        done.faults.append(Fault(str(table), f"the accepted log {log.name} is gone", mend))
        return
    for copy in copies:
        if content_sha256(copy) != log.sha256:
            found = f"the copy of {log.name} as it came was altered"
            done.faults.append(Fault(str(copy), found, "put it back from where it came, or take it away"))
            return
    whole, by_rows = _whole(table, log, copies, folder)
    if not whole:
        done.faults.append(Fault(str(table), f"{log.name}: is not what was accepted", mend))
    elif by_rows:
        done.by_rows += 1
    else:
        done.by_content += 1


def _whole(table: Path, log: _Log, copies: list[Path], folder: Path) -> tuple[bool, bool]:
    """Whether a table is what was accepted, and whether only its rows could tell."""
    held = file_sha256(table)
    if log.table_sha256 is not None:
        return held == log.table_sha256, False
    if held == log.sha256:
        return True, False
    if copies:
        return _same(table, tabulate(copies[0], folder / "again.parquet").path), False
    return pl.read_parquet(table, glob=False).height == log.rows, True


def _same(table: Path, again: Path) -> bool:
    """Whether two tables are one, byte by byte or, where another version of a library wrote one, cell by cell."""
    if file_sha256(table) == file_sha256(again):
        return True
    one, other = (pl.read_parquet(path, glob=False) for path in (table, again))
    return one.equals(other)
