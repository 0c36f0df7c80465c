"""How often verdicts at the gates are right on invented landings, by recorder rate, and how sure they say they are.

    python tests/bench/gate_verdicts.py [scale] [seed]     scale 0.3 is about 950 approaches

A verdict is clear where the truth of every criterion the log could show lies further than two uncertainties from its
limit; of clear ones 99.5 % should be right. The true share that met the gate should lie between what surely met it and
the whole less what surely missed it. Over all verdicts the stated confidence should be the share that is right.
"""

import sys
import tempfile
from pathlib import Path

import numpy as np
import polars as pl
from recovery import BANDS, measured_scenario

from flows.invented.gate_truth import GATES_FT
from pipeline.policy import Gate
from reports.gates import SURE


def told(landings: pl.DataFrame, truth: pl.DataFrame) -> pl.DataFrame:
    """One row an approach and gate with a verdict: `gate`, `recorder_rate_hz`, `stable`, `true_stable`, `clear`, `confidence`."""
    named = truth.select("log_file", "approach_index", pl.col("^gate_.*$").name.prefix("true_"))
    both = landings.join(named, on=["log_file", "approach_index"], how="inner")
    rows = [row for of in both.to_dicts() for gate in GATES_FT if (row := _one(of, f"gate_{gate}")) is not None]
    return pl.DataFrame(rows)


def _one(row: dict[str, object], gate: str) -> dict[str, object] | None:
    """One verdict beside its truth; None where either is missing."""
    truth = {name: row.get(f"true_{gate}_{name}") for name in ("airspeed_kt", "sink_fpm", "bank_deg", *_DOTS)}
    if row[f"{gate}_stable"] is None or truth["airspeed_kt"] is None:
        return None
    unjudged = str(row[f"{gate}_not_judged"]).split()
    margins = {
        name: value
        for name, value in _margins(truth, vref_kt=row["vref_kt"], target_kt=row["target_speed_kt"]).items()
        if name not in unjudged
    }
    clear = all(abs(margins[name]) > 2.0 * row[f"{gate}_{_U[name]}"] for name in margins)
    return {
        "gate": gate,
        "recorder_rate_hz": row["recorder_rate_hz"],
        "log_file": row["log_file"],
        "stable": row[f"{gate}_stable"],
        "true_stable": all(value >= 0.0 for value in margins.values()),
        "clear": clear,
        "confidence": row[f"{gate}_stable_confidence"],
    }


_DOTS = ("localiser_dots", "glideslope_dots")
_U = {
    "speed": "speed_over_target_kt_u",
    "sink": "sink_fpm_u",
    "localiser": "localiser_dots_u",
    "glideslope": "glideslope_dots_u",
    "bank": "bank_deg_u",
}


def _margins(truth: dict[str, object], *, vref_kt: float, target_kt: float) -> dict[str, float]:
    """True margin of each criterion of the shipped gate, positive where it is met."""
    rule, speed = Gate(500.0), truth["airspeed_kt"]
    over = speed - target_kt
    return {
        "speed": min(over + rule.speed_below_target_kt, rule.speed_above_target_kt - over, speed - vref_kt),
        "sink": rule.sink_max_fpm - truth["sink_fpm"],
        "localiser": rule.localiser_max_dots - abs(truth["localiser_dots"]),
        "glideslope": rule.glideslope_max_dots - abs(truth["glideslope_dots"]),
        "bank": rule.bank_max_deg - truth["bank_deg"],
    }


def report(verdicts: pl.DataFrame) -> pl.DataFrame:
    """One row a gate and band of rates: clear verdicts and those right, met among them; all, right and stated confidence."""
    rows = []
    for gate in verdicts["gate"].unique().sort():
        upper = np.inf
        for lower, band in BANDS:
            some = verdicts.filter(
                pl.col("gate") == gate, pl.col("recorder_rate_hz").is_between(lower, upper, closed="left")
            )
            upper = lower
            rows.append({"gate": gate, "rate": band, **_figures(some)})
    return pl.DataFrame(rows, infer_schema_length=None)


def _figures(some: pl.DataFrame) -> dict[str, float | int | None]:
    clear = some.filter("clear")
    right = pl.col("stable") == pl.col("true_stable")
    return {
        "clear": clear.height,
        "truly_met": clear["true_stable"].sum(),
        "clear_right": clear.filter(right).height,
        "all": some.height,
        "truly_met_share": _share(some, pl.col("true_stable")),
        "surely_met": _share(some, pl.col("stable") & (pl.col("confidence") >= SURE)),
        "not_surely_missed": 1.0 - _share(some, ~pl.col("stable") & (pl.col("confidence") >= SURE)),
        "all_right": round(some.filter(right).height / some.height, 3) if some.height else None,
        "stated": round(float(some["confidence"].mean()), 3) if some.height else None,
    }


def _share(some: pl.DataFrame, which: pl.Expr) -> float:
    return round(some.filter(which).height / max(some.height, 1), 3)


def main() -> None:
    """Print the table."""
    given = sys.argv[1:]
    scale = float(given[0]) if given else 0.3
    seed = int(given[1]) if len(given) > 1 else 11
    with tempfile.TemporaryDirectory() as folder:
        landings, truth = measured_scenario(Path(folder), scale=scale, seed=seed)
    verdicts = told(landings, truth.landings)
    clear = verdicts.filter("clear")
    right = clear.filter(pl.col("stable") == pl.col("true_stable")).height
    with pl.Config(tbl_rows=-1, tbl_cols=-1, tbl_width_chars=160, tbl_hide_dataframe_shape=True):
        sys.stdout.write(
            f"scale {scale}, seed {seed}: {right} of {clear.height} clear verdicts right\n{report(verdicts)}\n"
        )


if __name__ == "__main__":
    main()
