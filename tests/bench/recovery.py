"""How closely measuring recovers the invented landings' truth, by recorder rate: errors, coverage, what was lost.

    python tests/bench/recovery.py [scale] [seed]     scale 0.1 is about 300 landings

Error over stated uncertainty should lie within 1 for 60-78 % and within 2 for 92-98 % of landings.
"""

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import polars as pl

import flows  # noqa: F401 - sets the threads of the linear algebra library first
from flows.invented.scenario import Truth, write_scenario
from flows.settings import Settings
from pipeline.constants import learned
from pipeline.errors import RoundoutError
from pipeline.learning import constants_seen
from pipeline.measuring import measure_batch
from pipeline.prepared import Known
from pipeline.reading.channel_map import choose_map, load_map
from pipeline.reading.manifest import read_manifest
from pipeline.reading.record import recordings
from pipeline.reading.runways import read_runways
from pipeline.reading.tabulate import content_sha256, tabulate
from pipeline.recording import Recording

SHOWN = (
    "contact_t_s",
    "vertical_speed_at_contact_fpm",
    "peak_g",
    "flare_height_ft",
    "pitch_change_deg",
    "thrust_close_lag_s",
    "touchdown_distance_ft",
    "distance_from_50ft_ft",
    "threshold_height_ft",
    "threshold_airspeed_kt",
    "float_time_s",
)
BANDS = ((8.0, "8 Hz and more"), (4.0, "4 Hz"), (0.0, "1-2 Hz"))
LOGS = ("*.parquet", "*.csv", "*.csv.gz", "*.csv.zst")
TABLES = {"manifest.csv", "exposure.csv", "runways.csv"}


def measured_scenario(folder: Path, *, scale: float, seed: int) -> tuple[pl.DataFrame, Truth]:
    """Invent a scenario in `folder`, measure it, and return the landing frame and the truth."""
    inbox = folder / "inbox"
    inbox.mkdir()
    truth = write_scenario(inbox, seed=seed, landings=scale)
    maps = [load_map(file) for file in sorted((inbox / "maps").glob("*.toml"))]
    files = [f for pattern in LOGS for f in sorted(inbox.glob(pattern)) if f.name not in TABLES]
    sha = {file.name: content_sha256(file) for file in files if _readable(file)}
    manifest = read_manifest(inbox / "manifest.csv", [f.name for f in files])
    context = manifest.filter(pl.col("log_file").is_in(list(sha))).with_columns(
        pl.col("log_file").replace_strict(sha, default=None).alias("log_sha256")
    )

    def read(file: Path) -> list[Recording]:
        try:
            raw = tabulate(file, folder / f"{sha[file.name]}.parquet")
            channel_map = choose_map(raw.columns, maps, log_file=file.name)
            return list(recordings(raw.path, channel_map, log_sha256=sha[file.name], log_file=file.name))
        except RoundoutError:
            return []

    def every() -> Iterator[Recording]:
        return (recording for file in files if file.name in sha for recording in read(file))

    known = Known(context, read_runways(inbox / "runways.csv"), Settings().rules)
    constants = learned(constants_seen(every(), known, most=len(files)))
    measured = measure_batch(every(), context, runways=known.runways, policy=known.policy, constants=constants)
    return measured.landings, truth


def _readable(file: Path) -> bool:
    try:
        content_sha256(file)
    except RoundoutError:
        return False
    return True


def compared(landings: pl.DataFrame, truth: Truth) -> pl.DataFrame:
    """Join what was measured with the truth: one row a landing in both."""
    named = truth.landings.rename(
        {
            name: f"true_{name}"
            for name in truth.landings.columns
            if name in landings.columns and name not in ("log_file", "landing_index")
        }
    )
    return landings.with_columns(pl.col("contact_u_s").alias("contact_t_s_u")).join(
        named, on=["log_file", "landing_index"], how="inner"
    )


def report(both: pl.DataFrame) -> pl.DataFrame:
    """One row a measure and band of recorder rates: n, lost, median and 95th percentile error, coverage at 1 and 2 u."""
    rows = []
    for name in SHOWN:
        upper = np.inf
        for lower, band in BANDS:
            some = both.filter(pl.col("recorder_rate_hz").is_between(lower, upper, closed="left"))
            upper = lower
            rows.append({"measure": name, "rate": band, **_figures(some, name)})
    return pl.DataFrame(rows, infer_schema_length=None)


def _figures(some: pl.DataFrame, name: str) -> dict[str, float | int | None]:
    known = some.filter(pl.col(f"true_{name}").is_not_null() & pl.col(f"true_{name}").is_not_nan())
    held = known.drop_nulls(name)
    if held.is_empty():
        return {"n": 0, "lost": known.height}
    error = (held[name] - held[f"true_{name}"]).to_numpy()
    z = np.abs(error) / held[f"{name}_u"].to_numpy()
    return {
        "n": held.height,
        "lost": known.height - held.height,
        "bias": round(float(np.median(error)), 3),
        "median": round(float(np.median(np.abs(error))), 3),
        "p95": round(float(np.quantile(np.abs(error), 0.95)), 3),
        "within_1u": round(float((z <= 1.0).mean()), 3),
        "within_2u": round(float((z <= 2.0).mean()), 3),
    }


def main() -> None:
    """Print the tables."""
    given = sys.argv[1:]
    scale = float(given[0]) if given else 0.1
    seed = int(given[1]) if len(given) > 1 else 11
    with tempfile.TemporaryDirectory() as folder:
        landings, truth = measured_scenario(Path(folder), scale=scale, seed=seed)
    both = compared(landings, truth)
    with pl.Config(tbl_rows=-1, tbl_cols=-1, tbl_width_chars=160, tbl_hide_dataframe_shape=True):
        sys.stdout.write(f"scale {scale}, seed {seed}: {both.height} landings compared\n{report(both)}\n")
        agree = both.group_by("true_outcome", "outcome").len().sort("len", descending=True)
        sys.stdout.write(f"{agree}\n")


if __name__ == "__main__":
    main()
