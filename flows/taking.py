"""A prepared run in; out: its logs as raw tables, each content once, and what was refused on the way."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from flows.batches import Tabulating, tabulate_logs
from flows.intake import Refused, Tabled
from flows.preparing import Run


@dataclass(frozen=True)
class Taken:
    """`firsts` has the first log of each content, `copies` the further ones, `refused` those that are no table."""

    firsts: tuple[Tabled, ...]
    copies: tuple[Tabled, ...]
    refused: tuple[Refused, ...]

    def copies_of(self, refused: Sequence[Refused]) -> list[Refused]:
        """Return the copies of logs that were refused, refused for the same reason."""
        reasons = {one.log_sha256: one.reason for one in refused}
        return [
            Refused(log.log, log.log_sha256, reasons[log.log_sha256])
            for log in self.copies
            if log.log_sha256 in reasons
        ]


def take_all(run: Run) -> Taken:
    """Make every log a raw table in the staging folder.

    A log that is held already keeps the names it first came with.

    Raises
    ------
    MapError
        A map named for a log does not fit it.
    """
    logs, size = run.found.logs, run.settings.engine.batch_logs
    batches = [logs[first : first + size] for first in range(0, len(logs), size)]
    folder = run.workspace.staging / "tables"
    jobs = [
        Tabulating(batch, tuple(run.named.get(log.path) for log in batch), run.maps.tried, folder) for batch in batches
    ]
    outcomes: list[Tabled | Refused] = []
    for done in run.spread(tabulate_logs, jobs):
        outcomes += done
        run.tell("reading", len(outcomes), len(logs))
    firsts: dict[str, Tabled] = {}
    copies = []
    for log in outcomes:
        if isinstance(log, Refused):
            continue
        if log.log_sha256 in firsts:
            copies.append(log)
        else:
            firsts[log.log_sha256] = _under_first_names(run, log)
    refused = tuple(one for one in outcomes if isinstance(one, Refused))
    return Taken(tuple(firsts.values()), tuple(copies), refused)


def _under_first_names(run: Run, log: Tabled) -> Tabled:
    names = run.held.names_of(log.log_sha256)
    return log if names is None else replace(log, log=replace(log.log, name=names[0]), original_name=names[1])
