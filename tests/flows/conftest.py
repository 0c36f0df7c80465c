"""Small hand-made logs in three conventions, and workspaces to put them in."""

import gzip
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from flows.command_line import main
from flows.ingest import ingest
from flows.workspace import Workspace

AT = datetime(2026, 11, 25, 6, tzinfo=UTC)
KT_FPS = 1.687810

RUNWAYS = """\
runway,threshold_lat,threshold_lon,true_heading_deg,length_ft,width_ft,elevation_ft
Testfield 09,0.0,-30.0,90.0,8000,150,0
"""

METRIC_MAP = """\
time = { column = "Clock", unit = "clock" }
[channels]
radio_height = { column = "HtRadio", unit = "m" }
pitch = { column = "Nose", unit = "rad" }
vertical_speed = { column = "Descent", unit = "m/s", positive = "down" }
normal_accel = { column = "AccN", unit = "m/s2", at_rest = 9.80665 }
airspeed = { column = "Speed", unit = "km/h" }
ground_speed = { column = "SpeedGround", unit = "km/h" }
thrust_lever = { columns = ["LeverL", "LeverR"], unit = "deg", idle = 12.0, full = 64.0 }
main_on_ground = { column = "Squat", true_when = "GND" }
latitude = { column = "Lat", unit = "deg" }
longitude = { column = "Lon", unit = "deg" }
track_true = { column = "Course", unit = "deg" }
"""

STAMPED_MAP = """\
time = { column = "utc", unit = "iso8601" }
[channels]
radio_height = { column = "ra", unit = "ft" }
pitch = { column = "theta", unit = "deg" }
vertical_speed = { column = "vs", unit = "ft/min" }
normal_accel = { column = "nz", unit = "g", at_rest = 0.0 }
airspeed = { column = "ias", unit = "kt" }
ground_speed = { column = "gs", unit = "kt" }
thrust_lever = { column = "tla", unit = "fraction" }
main_on_ground = { columns = ["wow_left", "wow_right"], true_when = "1" }
latitude = { column = "lat", unit = "deg" }
longitude = { column = "lon", unit = "deg" }
track_true = { column = "trk", unit = "deg" }
"""


@dataclass(frozen=True)
class Flight:
    """A straight three-degree approach, an exponential flare, a contact at a known time, on the equator due east.

    `contact_s`: from the start of the log; `touchdown_ft`: from the threshold; `tau_s`: of the flare.
    """

    contact_s: float = 100.3
    touchdown_ft: float = 1200.0
    tau_s: float = 3.3
    speed_kt: float = 130.0
    started_at: datetime = datetime(2026, 11, 18, 10, tzinfo=UTC)
    go_around: bool = False

    def canonical(self, rate_hz: float = 8.0) -> pl.DataFrame:
        """The log under canonical names."""
        t = np.arange(0.0, self.contact_s + 40.0, 1.0 / rate_hz)
        tau = t - self.contact_s
        speed = self.speed_kt * KT_FPS
        sink = speed * np.tan(np.radians(3.0))
        flare_ft = self.tau_s * sink - 12.0
        flare_s = self.tau_s * np.log((flare_ft + 12.0) / 12.0)
        straight = flare_ft - sink * (tau + flare_s)
        flared = (flare_ft + 12.0) * np.exp(-(tau + flare_s) / self.tau_s) - 12.0
        height = np.where(tau < -flare_s, straight, flared)
        height = np.where(tau > 0.0, 0.0, height)
        rise = np.clip((tau + flare_s + 0.5) / 2.5, 0.0, 1.0)
        if self.go_around:
            height = np.maximum(height, 200.0) + np.clip(tau + 10.0, 0.0, None) * 30.0
        slowed = np.where(tau < 0.0, speed, np.maximum(speed - 9.0 * tau, 40.0))
        along = self.touchdown_ft + np.where(tau < 0.0, speed * tau, np.cumsum(slowed * (tau >= 0.0)) / rate_hz)
        pulse = 0.25 * np.sin(np.pi * np.clip(tau / 0.3, 0.0, 1.0))
        ground = (tau >= 0.0) & (not self.go_around)
        return pl.DataFrame(
            {
                "t_s": t,
                "radio_height_ft": np.round(height - 2.0, 2),
                "pitch_deg": np.round(2.5 + 1.5 * (1.0 - np.cos(np.pi * rise)) - np.clip(tau - 1.5, 0.0, 3.0), 3),
                "vertical_speed_fpm": np.round(np.gradient(height, t) * 60.0, 1),
                "normal_accel_g": np.round(1.0 + (0.0 if self.go_around else pulse), 4),
                "airspeed_kt": np.round(slowed / KT_FPS, 2),
                "ground_speed_kt": np.round(slowed / KT_FPS, 2),
                "thrust_lever_pct": np.round(40.0 * (1.0 - np.clip((tau + flare_s - 1.0) / 2.0, 0.0, 1.0)), 2),
                "main_on_ground": ground.astype(np.int64),
                "latitude_deg": np.zeros(len(t)),
                "longitude_deg": -30.0 + along * 0.3048 / (2.0 * np.pi * 6378137.0 / 360.0),
                "track_true_deg": np.full(len(t), 90.0),
            }
        )

    def metric(self) -> pl.DataFrame:
        """The same flight at 4 Hz, metric, descent positive, two levers by angle, words for the squat switch."""
        log = self.canonical(4.0)
        at = [self.started_at + timedelta(seconds=t) for t in log["t_s"]]
        lever = 12.0 + 0.52 * log["thrust_lever_pct"]
        return pl.DataFrame(
            {
                "Clock": [f"{stamp:%H:%M:%S}.{stamp.microsecond // 1000:03d}" for stamp in at],
                "HtRadio": log["radio_height_ft"] * 0.3048,
                "Nose": np.radians(log["pitch_deg"].to_numpy()),
                "Descent": log["vertical_speed_fpm"] * -0.00508,
                "AccN": log["normal_accel_g"] * 9.80665,
                "Speed": log["airspeed_kt"] * 1.852,
                "SpeedGround": log["ground_speed_kt"] * 1.852,
                "LeverL": lever - 0.2,
                "LeverR": lever + 0.2,
                "Squat": ["GND" if on else "AIR" for on in log["main_on_ground"]],
                "Lat": log["latitude_deg"],
                "Lon": log["longitude_deg"],
                "Course": log["track_true_deg"],
            }
        )

    def stamped(self) -> pl.DataFrame:
        """The same flight at 16 Hz with UTC stamps, slow channels blank between samples, acceleration without 1 g."""
        log = self.canonical(16.0)
        slow = pl.int_range(pl.len()) % 16 == 0
        at = [(self.started_at + timedelta(seconds=t)).isoformat(timespec="milliseconds") for t in log["t_s"]]
        return log.select(
            pl.Series("utc", at),
            pl.col("radio_height_ft").alias("ra"),
            pl.when(pl.int_range(pl.len()) % 4 == 0).then("pitch_deg").alias("theta"),
            pl.when(pl.int_range(pl.len()) % 2 == 0).then("vertical_speed_fpm").alias("vs"),
            (pl.col("normal_accel_g") - 1.0).alias("nz"),
            pl.when(slow).then("airspeed_kt").alias("ias"),
            pl.when(slow).then("ground_speed_kt").alias("gs"),
            (pl.col("thrust_lever_pct") / 100.0).alias("tla"),
            pl.col("main_on_ground").alias("wow_left"),
            pl.col("main_on_ground").alias("wow_right"),
            pl.when(slow).then("latitude_deg").alias("lat"),
            pl.when(slow).then("longitude_deg").alias("lon"),
            pl.when(slow).then("track_true_deg").alias("trk"),
        )


@pytest.fixture(scope="session")
def flight() -> type[Flight]:
    return Flight


@pytest.fixture(scope="session")
def at() -> datetime:
    """The instant of a run."""
    return AT


@pytest.fixture(scope="session")
def make_workspace() -> Callable[[Path], Workspace]:
    """Make a workspace with one runway and no log in a folder."""

    def made(folder: Path) -> Workspace:
        workspace = Workspace.at(folder)
        workspace.make()
        workspace.runways_file.write_text(RUNWAYS)
        return workspace

    return made


@pytest.fixture
def workspace(tmp_path: Path, make_workspace: Callable[[Path], Workspace]) -> Workspace:
    """A workspace with one runway and no log."""
    return make_workspace(tmp_path / "data")


@pytest.fixture(scope="session")
def fill() -> Callable[[Path], None]:
    """Put three logs in three conventions, their maps and a manifest into a folder."""

    def filled(folder: Path) -> None:
        (folder / "maps").mkdir(parents=True, exist_ok=True)
        (folder / "maps" / "metric.toml").write_text(METRIC_MAP)
        (folder / "maps" / "stamped.toml").write_text(STAMPED_MAP)
        Flight().canonical().write_csv(folder / "first.csv")
        Flight(contact_s=110.1, touchdown_ft=1500.0).metric().write_parquet(folder / "second.parquet")
        third = Flight(contact_s=95.7, touchdown_ft=900.0, started_at=datetime(2026, 11, 19, 12, tzinfo=UTC)).stamped()
        (folder / "third.csv.gz").write_bytes(gzip.compress(third.write_csv().encode(), mtime=0))
        (folder / "manifest.csv").write_text(
            "log_file,flown_at,pilot,aircraft,aircraft_type,vref_kt\n"
            "first.csv,2026-11-18T10:00:00Z,Ada Quill,A-1,Gull 2,120\n"
            "second.parquet,2026-11-18T12:00:00Z,Bo Fen,A-2,Gull 2,120\n"
            "third.csv.gz,,Ada Quill,A-1,Gull 2,120\n"
        )

    return filled


@pytest.fixture(scope="session")
def ingested_once(
    tmp_path_factory: pytest.TempPathFactory,
    make_workspace: Callable[[Path], Workspace],
    fill: Callable[[Path], None],
    at: datetime,
) -> Path:
    """The folder of a workspace that holds three landings; never written to by a test."""
    workspace = make_workspace(tmp_path_factory.mktemp("ingested") / "data")
    fill(workspace.inbox)
    ingest(workspace, at=at)
    return workspace.root


@pytest.fixture
def ingested(workspace: Workspace, ingested_once: Path) -> Workspace:
    """A workspace that holds three landings, with the tables of the inbox still there."""
    shutil.copytree(ingested_once, workspace.root, dirs_exist_ok=True)
    return workspace


@pytest.fixture
def run(
    workspace: Workspace, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Callable[..., tuple[int, str, str]]:
    """Run a command in the workspace; give its exit status and what it printed."""
    monkeypatch.setenv("ROUNDOUT_WORKSPACE", str(workspace.root))

    def ran(*arguments: str | Path) -> tuple[int, str, str]:
        status = main([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        return status, out, err

    return ran
