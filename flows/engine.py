"""Work and jobs in, results in the order of the jobs out: in this process, or spread over worker processes."""

import multiprocessing
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from typing import Protocol, TypeVar

from flows.settings_tables import EngineTable
from pipeline.errors import StoreError

Job = TypeVar("Job")
Result = TypeVar("Result")

MANY_LOGS = 300
"""Starting worker processes costs a second or two; fewer logs than this are done before they would help."""


class Spread(Protocol):
    """A way to do jobs. Jobs and results hold paths and plain values, so that any process can take them."""

    def __call__(self, work: Callable[[Job], Result], jobs: Sequence[Job], /) -> Iterator[Result]:
        """Yield the result of each job, in the order of the jobs."""


def spread_for(settings: EngineTable, logs: int) -> Spread:
    """Return the way the settings ask for; where they leave it open, two processes for many logs, else this one."""
    workers = settings.workers or (2 if logs > MANY_LOGS and multiprocessing.cpu_count() > 1 else 1)
    return here if workers == 1 else Workers(workers)


def here(work: Callable[[Job], Result], jobs: Sequence[Job], /) -> Iterator[Result]:
    """Do the jobs in this process, each when its result is asked for."""
    return map(work, jobs)


class Workers:
    """Do the jobs in `workers` fresh processes.

    Raises
    ------
    StoreError
        A worker was ended from outside, most often for want of memory.
    """

    def __init__(self, workers: int) -> None:
        self._workers = workers

    def __call__(self, work: Callable[[Job], Result], jobs: Sequence[Job], /) -> Iterator[Result]:
        """Yield the result of each job, in the order of the jobs."""
        pool = ProcessPoolExecutor(self._workers, mp_context=multiprocessing.get_context("spawn"))
        try:
            yield from pool.map(work, jobs)
        except BrokenProcessPool as error:
            message = (
                "a worker process was ended from outside (out of memory?); nothing was lost: run again, "
                "or set engine.workers = 1 or a smaller engine.batch_logs in the settings"
            )
            raise StoreError(message) from error
        finally:
            pool.shutdown(cancel_futures=True)
