"""Raw tables and the rules of a run in, staged batches of measured frames out, one after the other.

Constants of gear and instruments that are not known yet are learned first and kept in the run's warehouse.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

import polars as pl

from flows.batches import Measuring, Staged, measure_logs
from flows.constants import constants_for
from flows.engine import Spread
from flows.files import write_table
from flows.intake import Tabled
from flows.progress import Progress
from flows.settings import Settings
from flows.workspace import Workspace

BATCH_ROWS = 2_000_000
"""Rows a batch at most, so that long logs do not meet in one; a longer log is a batch of its own."""


@dataclass(frozen=True)
class Rules:
    """What logs are measured by, how the batches are done, and who is told.

    `workspace` is where work is staged and constants are kept.
    """

    workspace: Workspace
    settings: Settings
    runways: pl.DataFrame
    spread: Spread
    tell: Progress


def measured(logs: Sequence[Tabled], context: pl.DataFrame, rules: Rules, *, at: datetime) -> Iterator[Staged]:
    """Measure `logs` batch by batch, each when it is asked for; `context` has what manifests say of them.

    `at`: UTC instant of the run, noted with constants it learns.
    """
    staging = rules.workspace.staging
    staging.mkdir(exist_ok=True)
    names = ("context", "runways", "constants")
    context_file, runways_file, constants_file = (staging / f"{name}.parquet" for name in names)
    write_table(context, context_file)
    write_table(rules.runways, runways_file)
    policy = rules.settings.rules
    rules.tell("learning", 0, 0)
    tables = (context_file, runways_file, policy)
    write_table(constants_for(rules.workspace, logs, tables, spread=rules.spread, at=at), constants_file)
    jobs = [
        Measuring(tuple(batch), context_file, runways_file, policy, constants_file, staging / f"batch-{number}")
        for number, batch in enumerate(_batches(logs, rules.settings.engine.batch_logs))
    ]
    done = 0
    for staged in rules.spread(measure_logs, jobs):
        yield staged
        done += len(staged.read) + len(staged.refused)
        rules.tell("measuring", done, len(logs))


def _batches(logs: Sequence[Tabled], most: int) -> Iterator[list[Tabled]]:
    """Part logs into batches of at most `most`, and of `BATCH_ROWS` rows unless one log alone has more."""
    batch: list[Tabled] = []
    rows = 0
    for log in logs:
        if batch and (len(batch) == most or rows + log.table.rows > BATCH_ROWS):
            yield batch
            batch, rows = [], 0
        batch.append(log)
        rows += log.table.rows
    if batch:
        yield batch
