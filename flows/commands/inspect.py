"""`roundout inspect`: what is in a log."""

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from flows.commands.terminal import JsonOption, WorkspaceOption, say, say_json
from flows.discovery import discover
from flows.inspection import Inspection, inspect_log
from flows.maps import Maps
from flows.measured_logs import Known
from flows.runways import kept_runways
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from reports.words import REASON_WORDS, counted

SOME_REFUSED = 3


def inspect(
    *logs: Path,
    channel_map: Annotated[Path | None, Parameter(name="--map")] = None,
    workspace: WorkspaceOption = None,
    json: JsonOption = False,
) -> int:
    """Say what is in a log, what it can and cannot support, and what is wrong with it. Writes nothing.

    Runways, policy and maps are those of the workspace, where there is one, and the maps beside the log. Rates are in
    Hz, times in s from the log's start; a log that cannot be read ends in exit status 3.

    Parameters
    ----------
    logs
        Logs, or folders with logs.
    channel_map
        Channel map (TOML) for these logs.
    """
    if not logs:
        message = "name a log: roundout inspect LOG..."
        raise SettingsError(message)
    place = Workspace.at(workspace)
    found = discover(place.inbox, logs)
    beside = (path for log in found.logs for path in (log.path.parent / "maps").glob("*.toml"))
    tried = dict.fromkeys((*sorted(place.maps.glob("*.toml")), *found.maps, *sorted(set(beside))))
    maps = Maps(tried, kept=place.kept_maps)
    named = None if channel_map is None else maps.named(channel_map)
    known = Known.without_context(kept_runways(place), place.settings().rules)
    seen = [inspect_log(log, known, named=named, maps=maps.tried) for log in found.logs]
    if json:
        say_json(seen)
    else:
        for line in (line for one in seen for line in _lines(one)):
            say(line)
    return SOME_REFUSED if any(one.refused for one in seen) else 0


def _lines(seen: Inspection) -> Iterator[str]:
    yield seen.log_file
    if seen.refused:
        yield f"  cannot be read: {seen.refused}"
        return
    yield f"  {counted(seen.rows, 'row')}, {seen.duration_s:g} s, from {_start(seen)}; map: {seen.map_name}"
    yield "  channel                 unit     samples  rate Hz  smallest step       lowest      highest"
    for one in seen.channels:
        yield (
            f"  {one.channel:<23} {one.unit:<8} {one.samples:>7}  {_number(one.rate_hz):>7}"
            f"  {_number(one.resolution):>13} {one.low:>12g} {one.high:>12g}"
        )
    yield f"  channels it does not have: {', '.join(seen.channels_missing) or 'none'}"
    yield f"  columns not used: {', '.join(seen.columns_unused) or 'none'}"
    yield from (f"  note: {note}" for note in seen.notes)
    yield from _approaches(seen)
    yield f"  {counted(len(seen.supported), 'measure')} supported: {', '.join(seen.supported) or 'none'}"
    yield from _not_supported(seen)


def _approaches(seen: Inspection) -> Iterator[str]:
    if not seen.approaches:
        yield "  no landing and no approach found"
    for number, one in enumerate(seen.approaches):
        touched = "no contact timed"
        if one.contact_t_s is not None:
            touched = (
                f"contact at {one.contact_t_s:.2f} s, standard uncertainty {one.contact_u_s:.2f} s, by {one.evidence}"
            )
        yield f"  approach {number}: {one.outcome.replace('_', ' ')}, {touched}"


def _not_supported(seen: Inspection) -> Iterator[str]:
    reasons: dict[str, list[str]] = {}
    for measure, reason in seen.not_supported:
        reasons.setdefault(reason, []).append(measure)
    for reason, measures in reasons.items():
        yield f"  not supported, {REASON_WORDS[reason]}: {', '.join(measures)}"


def _start(seen: Inspection) -> str:
    return f"{seen.started_at:%Y-%m-%d %H:%M:%S} UTC" if seen.started_at else "a start it does not tell"


def _number(value: float | None) -> str:
    return "-" if value is None else f"{value:g}"
