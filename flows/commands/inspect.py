"""`roundout inspect`: what is in a log."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from flows.commands.terminal import JsonOption, WorkspaceOption, say, say_json
from flows.discovery import LogFile, discover
from flows.files import write_atomically
from flows.inspection import Inspection, inspect_log
from flows.inspection_words import inspection_lines
from flows.maps import Maps
from flows.measured_logs import Known
from flows.runways import kept_runways
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from pipeline.reading.channel_map import ChannelMap
from pipeline.reading.proposal.map_text import map_text
from pipeline.reading.proposal.merge import merged
from reports.edition import folder_name

SOME_REFUSED = 3
PAGES = "inspected"
"""Folder beside the workspace that pages of traces go to."""


def inspect(
    *logs: Path,
    channel_map: Annotated[Path | None, Parameter(name="--map")] = None,
    write_map: Path | None = None,
    plot: Annotated[bool | Path, Parameter(negative="")] = False,
    workspace: WorkspaceOption = None,
    json: JsonOption = False,
) -> int:
    """Say what is in a log, what it can and cannot support, and what is wrong with it.

    Where no channel map reads a log, one is proposed, with how sure each line is and why, and the log is looked at
    through its sure lines. Runways, policy and maps are those of the workspace, where there is one, and the maps beside
    the log. Rates are in Hz, times in s from the log's start; a log that cannot be read ends in exit status 3. Nothing
    is written but what --write-map and --plot ask for.

    Parameters
    ----------
    logs
        Logs, or folders with logs.
    channel_map
        Channel map (TOML) for these logs.
    write_map
        Write the map proposed for these logs, which must have the same columns, to this file; lines that are not sure
        stand behind a # with the question to settle.
    plot
        Write a page of each log's traces with the moments found: to a page (.html) or folder named after it, else to
        the folder `inspected` beside the workspace.
    """
    if not logs:
        message = "name a log: roundout inspect LOG..."
        raise SettingsError(message)
    place = Workspace.at(workspace)
    found = discover(place.inbox, logs).logs
    pages = _pages(plot, found, place)
    if write_map is not None:
        _require_new(write_map)
    named, maps = _maps(place, logs, channel_map)
    known = Known.without_context(kept_runways(place), place.settings().rules)
    seen = [inspect_log(log, known, named=named, maps=maps.tried, page=pages.get(log.path)) for log in found]
    if write_map is not None:
        _write_map(seen, write_map)
    if json:
        say_json(seen)
    else:
        for line in (line for one in seen for line in inspection_lines(one)):
            say(line)
        if write_map is not None:
            say(f"Map written to {write_map}: read it, settle what stands behind a #, then put it in {place.maps}.")
    return SOME_REFUSED if any(one.refused for one in seen) else 0


def _maps(place: Workspace, logs: Sequence[Path], channel_map: Path | None) -> tuple[ChannelMap | None, Maps]:
    found = discover(place.inbox, logs)
    beside = (path for log in found.logs for path in (log.path.parent / "maps").glob("*.toml"))
    tried = dict.fromkeys((*sorted(place.maps.glob("*.toml")), *found.maps, *sorted(set(beside))))
    maps = Maps(tried, kept=place.kept_maps)
    return (None if channel_map is None else maps.named(channel_map)), maps


def _pages(plot: bool | Path, logs: Sequence[LogFile], place: Workspace) -> dict[Path, Path]:  # noqa: FBT001
    """The page of each log, by the log's path; empty where none is asked for.

    Raises
    ------
    SettingsError
        The path is neither a page nor a folder, or one page is named for several logs.
    """
    if plot is False:
        return {}
    if isinstance(plot, Path) and plot.suffix.lower() in (".html", ".htm"):
        if len(logs) > 1:
            raise SettingsError(f"--plot {plot}: one page for {len(logs)} logs; name a folder")
        return {log.path: plot.absolute() for log in logs}
    if isinstance(plot, Path) and (plot.is_file() or plot.suffix):
        raise SettingsError(f"--plot {plot}: neither a page (.html) nor a folder; write the logs before --plot")
    folder = plot.absolute() if isinstance(plot, Path) else place.root.parent / PAGES
    return {log.path: folder / f"{folder_name(log.name)}.html" for log in logs}


def _require_new(target: Path) -> None:
    if target.exists():
        raise SettingsError(f"--write-map {target}: there is such a file already, and it may hold work; name another")
    if not target.absolute().parent.is_dir():
        raise SettingsError(f"--write-map {target}: there is no folder {target.absolute().parent}; make it first")


def _write_map(seen: Sequence[Inspection], target: Path) -> None:
    """Write the map proposed for logs of one recorder.

    Raises
    ------
    SettingsError
        A log is read by a map already, cannot be read at all, or has other columns than the first.
    """
    for one in seen:
        if one.proposal is None or one.proposal.clock is None:
            raise SettingsError(f"--write-map: nothing can be proposed for {one.log_file}: {one.refused}")
        if one.no_map is None and one.refused is None:
            raise SettingsError(f"--write-map: {one.log_file} is read by {one.map_name} already; no map is missing")
        if set(one.columns) != set(seen[0].columns):
            raise SettingsError(
                f"--write-map: {one.log_file} and {seen[0].log_file} have different columns; name logs of one recorder"
            )
    names = ", ".join(one.log_file for one in seen)
    whole = merged([one.proposal for one in seen if one.proposal is not None])
    write_atomically(target.absolute(), map_text(whole, log_file=names).encode())
