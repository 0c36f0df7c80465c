"""A workspace's path in, the two scheduled jobs out: thin flows over the plain functions the command line calls.

One task is one batch of logs; tasks hand on paths and plain values only, and nothing of theirs is cached. The day a run
works for is that of the slot it was scheduled in, never the wall clock: a run may begin before its slot or long after.
"""

from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any, TypeVar, cast
from zoneinfo import ZoneInfo

from prefect import flow, runtime, task
from prefect.cache_policies import NO_CACHE

from flows.ingest import ingest
from flows.preparing import Given
from flows.week import week
from flows.workspace import Workspace

Job = TypeVar("Job")
Result = TypeVar("Result")

SETTLED = timedelta(seconds=30)
"""A scheduled run leaves files written to so shortly before it for the next one: they may still be growing."""


@flow(name="ingest")
def ingest_inbox(workspace: str) -> int:
    """Ingest the inbox; return how many logs were refused."""
    now = datetime.now(UTC)
    done = ingest(Workspace(Path(workspace)), at=now, given=Given(settled_by=now - SETTLED), spread=as_tasks)
    return len(done.refused)


@flow(name="week")
def write_week(workspace: str, as_of: date | None = None) -> str:
    """Write the edition of the last whole week before the day of the slot, or before `as_of`; return the week."""
    place = Workspace(Path(workspace))
    day = as_of or _slot().astimezone(ZoneInfo(place.settings().schedule.zone)).date()
    now = datetime.now(UTC)
    return week(place, day, at=now, given=Given(settled_by=now - SETTLED), spread=as_tasks).week


@task(name="batch", cache_policy=NO_CACHE)
def batch(work: Callable[[Any], Any], job: Any) -> Any:
    """Do one batch."""
    return work(job)


def as_tasks(work: Callable[[Job], Result], jobs: Sequence[Job], /) -> Iterator[Result]:
    """Do each job as one task, one after the other."""
    for job in jobs:
        yield cast("Result", batch(work, job))


def _slot() -> datetime:
    """Return the instant a run was scheduled for."""
    slot: datetime = runtime.flow_run.scheduled_start_time
    return slot
