"""Small invented logs, written as a test asks, and read through the whole room."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from pipeline.reading.channel_map import ChannelMap, choose_map, load_map
from pipeline.reading.record import recordings
from pipeline.reading.tabulate import tabulate
from pipeline.recording import Recording

Read = Callable[..., Recording]


@pytest.fixture
def load(tmp_path: Path) -> Callable[[str], ChannelMap]:
    """Write a map and load it; the time column is `t` in seconds unless the text brings its own."""

    def write_and_load(said: str) -> ChannelMap:
        path = tmp_path / "recorder.toml"
        time = "" if said.startswith("time") else 'time = { column = "t", unit = "s" }\n'
        path.write_text(f"{time}{'' if '[channels]' in said else '[channels]'}\n{said}", encoding="utf-8")
        return load_map(path)

    return write_and_load


@pytest.fixture
def read(tmp_path: Path) -> Read:
    """Write a log (bytes or a frame), tabulate it and return its one recording."""

    def write_and_read(log: bytes | pl.DataFrame, channel_map: ChannelMap | None = None) -> Recording:
        source, table = tmp_path / "flight.log", tmp_path / "table.parquet"
        if isinstance(log, bytes):
            source.write_bytes(log)
        else:
            log.write_parquet(source)
        raw = tabulate(source, table)
        chosen = channel_map or choose_map(raw.columns, (), log_file="flight.log")
        (recording,) = recordings(table, chosen, log_sha256="00", log_file="flight.log")
        return recording

    return write_and_read


@pytest.fixture
def flight() -> pl.DataFrame:
    """One invented approach at 4 Hz under the canonical names; pitch comes at 1 Hz, blank between."""
    t = np.arange(0.0, 60.0, 0.25)
    height = np.maximum(700.0 - 12.0 * t, 0.0)
    frame = pl.DataFrame(
        {
            "t_s": t,
            "radio_height_ft": height,
            "vertical_speed_fpm": np.where(height > 0, -720.0, 0.0),
            "pitch_deg": 2.5 + 0.5 * np.sin(t / 5.0),
            "normal_accel_g": 1.0 + 0.05 * np.sin(t),
            "thrust_lever_pct": np.clip(60.0 - t, 0.0, 100.0),
            "glideslope_dots": 0.4 * np.sin(t / 9.0),
            "heading_true_deg": (355.0 + t / 4.0) % 360.0,
            "main_on_ground": (height == 0).astype(float),
        }
    )
    slower = pl.when(pl.int_range(pl.len()) % 4 == 0).then(pl.col("pitch_deg"))
    return frame.with_columns(slower.alias("pitch_deg"))
