"""How closely measuring recovers landings flown by a flight dynamics library, by recorder rate.

    python tests/bench/flight_dynamics_recovery.py [--landings 220] [--seed 1] [--half tuning|report] [--airframe A|B|C]

Truth at 240 Hz is flown once (some seconds a landing) and kept in the folder FLIGHT_DYNAMICS_CACHE names, else in the
system's temporary one. Each landing is recorded once in each band of rates. Error over stated uncertainty should lie
within 1 for 60-78 % and within 2 for 92-98 % of landings. Constants of gear and instruments are learned first, as a
run does, for the recorders that have enough landings.
"""

import argparse
import sys
import time

import polars as pl
from flight_dynamics import cases, figures, findings
from flight_dynamics.recorders import BANDS

import flows  # noqa: F401 - sets the threads of the linear algebra library first
from pipeline.constants import learned
from pipeline.learning import constants_seen
from pipeline.measuring import measure_batch
from pipeline.prepared import Known


def measured(landings: list[cases.Landing]) -> tuple[pl.DataFrame, float]:
    """Record and measure every landing in every band; joined with the truth, and the seconds learning and measuring took."""
    truth = cases.truth_frame(landings)
    parts, spent = [], 0.0
    for band in BANDS:
        batch = cases.recorded(landings, band=band)
        began = time.perf_counter()
        known = Known(batch.context, batch.runways, batch.policy)
        constants = learned(constants_seen(batch.recordings, known, most=len(batch.recordings)))
        found = measure_batch(
            batch.recordings, batch.context, runways=batch.runways, policy=batch.policy, constants=constants
        )
        spent += time.perf_counter() - began
        parts.append(figures.joined(found.landings, batch.index, truth))
    return pl.concat(parts, how="vertical"), spent


def main() -> None:
    """Print the tables."""
    given = _arguments()
    landings = [
        one
        for one in cases.landings(given.half, count=given.landings, seed=given.seed)
        if given.airframe in (None, one.plan.airframe)
    ]
    both, spent = measured(landings)
    with pl.Config(
        tbl_rows=-1,
        tbl_cols=-1,
        tbl_width_chars=200,
        tbl_hide_dataframe_shape=True,
        tbl_hide_column_data_types=True,
        fmt_str_lengths=90,
    ):
        say = sys.stdout.write
        say(f"{given.half} half, seed {given.seed}: {len(landings)} landings, each in {len(BANDS)} bands, ")
        say(f"{len(landings) * len(BANDS) / spent:.0f} measured a second\n{figures.errors(both)}\n")
        say(f"Outcomes; bounces of 0.6 s and more found; more bounces told than were\n{findings.outcomes(both)}\n")
        say(f"Gate verdicts further than 2 u from every limit\n{findings.gates(both, landings)}\n")
        batch = cases.recorded(landings[:60], band=BANDS[0])
        say(f"Told from a log without the channel\n{findings.told_without_channel(batch)}\n")


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--landings", type=int, default=220, help="number of landings (default 220)")
    parser.add_argument("--seed", type=int, default=1, help="seed of the landings (default 1)")
    parser.add_argument("--half", choices=["tuning", "report"], default="tuning", help="half of the seeds")
    parser.add_argument("--airframe", choices=["A", "B", "C"], help="only this airframe")
    return parser.parse_args()


if __name__ == "__main__":
    main()
