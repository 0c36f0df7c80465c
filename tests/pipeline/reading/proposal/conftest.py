"""One invented flight, written anew by five odd recorders; each with what every column of it truly is."""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from flows.invented.scenario import write_scenario
from pipeline.reading.channel_map import load_map
from pipeline.reading.record import recordings
from pipeline.recording import Recording

G = 9.80665
RATE_HZ = 8.0


@dataclass(frozen=True)
class OddLog:
    """The text of a log, and by column what a right map says of it: (channel, unit, positive, true_when).

    `doubtful`: columns whose unit or sign nothing in the log tells; a line for them must not be sure.
    """

    name: str
    text: str
    truth: dict[str, tuple[str, str | None, str | None, str | None]]
    time: tuple[str, str]
    doubtful: frozenset[str] = field(default_factory=frozenset)


@dataclass(frozen=True)
class Flown:
    """Canonical channels of one recording at even times: `t` (n,), `at(channel)` (n,)."""

    recording: Recording

    @property
    def t(self) -> np.ndarray:
        """Times, s."""
        ends = min(samples.t[-1] for samples in self.recording.channels.values())
        return np.arange(2.0, ends - 1.0, 1.0 / RATE_HZ)

    def at(self, channel: str) -> np.ndarray:
        """A channel at those times; switches hold their last state."""
        samples = self.recording.channels[channel]
        if channel.endswith(("_ground", "_down", "_on")):
            return samples.value[np.maximum(np.searchsorted(samples.t, self.t, "right") - 1, 0)]
        value = np.unwrap(samples.value, period=360.0) if channel.endswith("_true_deg") else samples.value
        return np.interp(self.t, samples.t, value)

    def incidence(self) -> np.ndarray:
        """Angle between the nose and the path, deg."""
        climb, speed = self.at("vertical_speed_fpm") * 0.00508, self.at("ground_speed_kt") * 1852.0 / 3600.0
        return self.at("pitch_deg") - np.degrees(np.arctan2(climb, speed))

    def rate(self, channel: str) -> np.ndarray:
        """Its change a second."""
        return np.gradient(self.at(channel), self.t)


def german(f: Flown) -> OddLog:
    """Semicolons, decimal commas, units in brackets, metres, descent positive, words for the switch; decoys."""
    yes = f.at("main_on_ground") > 0.5
    noise = np.random.default_rng(1).normal(size=len(f.t))
    columns = {
        "Zeit [s]": np.round(f.t, 3),
        "Funkhöhe [m]": np.round(f.at("radio_height_ft") * 0.3048, 2),
        "Druckhöhe [m]": np.round(f.at("pressure_altitude_ft") * 0.3048),
        "Vorwahlhöhe [m]": np.full(len(f.t), 900.0),
        "Sinkrate [m/s]": np.round(-f.at("vertical_speed_fpm") * 0.00508, 2),
        "Eigengeschwindigkeit [km/h]": np.round(f.at("airspeed_kt") * 1.852, 1),
        "Fahrt über Grund [km/h]": np.round(f.at("ground_speed_kt") * 1.852, 1),
        "Nickwinkel [Grad]": np.round(f.at("pitch_deg"), 2),
        "Querlage [Grad]": np.round(f.at("roll_deg"), 2),
        "Steuerkurs rechtweisend [Grad]": np.round(f.at("heading_true_deg") % 360.0, 1),
        "Lastvielfaches [g]": np.round(f.at("normal_accel_g"), 3),
        "Längsbeschleunigung [m/s²]": np.round(f.at("longitudinal_accel_g") * G, 2),
        "Leistungshebel links [%]": np.round(f.at("thrust_lever_pct") - 0.2, 1),
        "Leistungshebel rechts [%]": np.round(f.at("thrust_lever_pct") + 0.2, 1),
        "Drehzahl N1 [%]": np.round(f.at("engine_speed_pct"), 1),
        "Breite [Grad]": np.round(f.at("latitude_deg"), 6),
        "Länge [Grad]": np.round(f.at("longitude_deg"), 6),
        "Landeklappen [Grad]": np.round(f.at("flap_deg"), 1),
        "Hauptfahrwerk am Boden": np.where(yes, "JA", "NEIN"),
        "Öltemperatur [°C]": np.round(88.0 + 0.2 * noise, 1),
    }
    truth = {
        "Funkhöhe [m]": ("radio_height", "m", None, None),
        "Druckhöhe [m]": ("pressure_altitude", "m", None, None),
        "Sinkrate [m/s]": ("vertical_speed", "m/s", "down", None),
        "Eigengeschwindigkeit [km/h]": ("airspeed", "km/h", None, None),
        "Fahrt über Grund [km/h]": ("ground_speed", "km/h", None, None),
        "Nickwinkel [Grad]": ("pitch", "deg", None, None),
        "Querlage [Grad]": ("roll", "deg", None, None),
        "Steuerkurs rechtweisend [Grad]": ("heading_true", "deg", None, None),
        "Lastvielfaches [g]": ("normal_accel", "g", None, None),
        "Längsbeschleunigung [m/s²]": ("longitudinal_accel", "m/s2", None, None),
        "Leistungshebel links [%]": ("thrust_lever", "%", None, None),
        "Leistungshebel rechts [%]": ("thrust_lever", "%", None, None),
        "Drehzahl N1 [%]": ("engine_speed", "%", None, None),
        "Breite [Grad]": ("latitude", "deg", None, None),
        "Länge [Grad]": ("longitude", "deg", None, None),
        "Landeklappen [Grad]": ("flap", "deg", None, None),
        "Hauptfahrwerk am Boden": ("main_on_ground", None, None, "JA"),
    }
    frame = pl.DataFrame(columns)
    text = frame.with_columns(pl.col(pl.Float64).cast(pl.String).str.replace(".", ",", literal=True)).write_csv(
        separator=";"
    )
    return OddLog("deutsch.csv", text, truth, ("Zeit [s]", "s"))


def french(f: Flown) -> OddLog:
    """Tabs, abbreviations, a row of units below the header, a target speed and a selected heading beside the real ones."""
    columns = {
        "Temps": [f"{s // 3600 % 24:02.0f}:{s // 60 % 60:02.0f}:{s % 60:06.3f}" for s in f.t + 38_100.0],
        "HauteurRadio": np.round(f.at("radio_height_ft"), 1),
        "AltBaro": np.round(f.at("pressure_altitude_ft")),
        "Vz": np.round(f.at("vertical_speed_fpm") / 8.0) * 8.0,
        "Vi": np.round(f.at("airspeed_kt"), 1),
        "ViConsigne": np.full(len(f.t), 120.0),
        "Vsol": np.round(f.at("ground_speed_kt"), 1),
        "Assiette": np.round(f.at("pitch_deg"), 2),
        "CapSel": np.full(len(f.t), 83.0),
        "RouteVraie": np.round(f.at("track_true_deg") % 360.0, 1),
        "Nz": np.round(f.at("normal_accel_g"), 3),
        "Nx": np.round(f.at("longitudinal_accel_g"), 3),
        "ManetteG": np.round(f.at("thrust_lever_pct") - 0.1, 1),
        "ManetteD": np.round(f.at("thrust_lever_pct") + 0.1, 1),
        "LatGeo": np.round(f.at("latitude_deg"), 6),
        "LonGeo": np.round(f.at("longitude_deg"), 6),
        "Volets": np.round(f.at("flap_deg"), 1),
        "AuSol": f.at("main_on_ground").astype(int),
    }
    units = [
        "",
        "ft",
        "ft",
        "ft/min",
        "kt",
        "kt",
        "kt",
        "deg",
        "deg",
        "deg",
        "g",
        "g",
        "%",
        "%",
        "deg",
        "deg",
        "deg",
        "",
    ]
    truth = {
        "HauteurRadio": ("radio_height", "ft", None, None),
        "AltBaro": ("pressure_altitude", "ft", None, None),
        "Vz": ("vertical_speed", "ft/min", None, None),
        "Vi": ("airspeed", "kt", None, None),
        "Vsol": ("ground_speed", "kt", None, None),
        "Assiette": ("pitch", "deg", None, None),
        "RouteVraie": ("track_true", "deg", None, None),
        "Nz": ("normal_accel", "g", None, None),
        "Nx": ("longitudinal_accel", "g", None, None),
        "ManetteG": ("thrust_lever", "%", None, None),
        "ManetteD": ("thrust_lever", "%", None, None),
        "LatGeo": ("latitude", "deg", None, None),
        "LonGeo": ("longitude", "deg", None, None),
        "Volets": ("flap", "deg", None, None),
        "AuSol": ("main_on_ground", None, None, None),
    }
    head, *lines = pl.DataFrame(columns).write_csv(separator="\t").splitlines()
    return OddLog("francais.tsv", "\n".join([head, "\t".join(units), *lines]) + "\n", truth, ("Temps", "clock"))


def abbreviated(f: Flown) -> OddLog:
    """Milliseconds, curt names, no unit anywhere, nose-down pitch and left roll positive, acceleration without 1 g."""
    columns = {
        "TMS": np.round((f.t - f.t[0]) * 1000.0).astype(int),
        "FRAME": np.arange(len(f.t)),
        "RALT": np.round(f.at("radio_height_ft"), 1),
        "PALT": np.round(f.at("pressure_altitude_ft")),
        "GPSALT": np.round(f.at("geometric_altitude_ft")),
        "IVV": np.round(f.at("vertical_speed_fpm") / 8.0) * 8.0,
        "KIAS": np.round(f.at("airspeed_kt"), 1),
        "GSPD": np.round(f.at("ground_speed_kt"), 1),
        "PITCH": np.round(-f.at("pitch_deg"), 2),
        "PITCHRATE": np.round(-f.rate("pitch_deg"), 3),
        "BANK": np.round(-f.at("roll_deg"), 2),
        "HDGTRU": np.round(f.at("heading_true_deg") % 360.0, 1),
        "NZ": np.round(f.at("normal_accel_g") - 1.0, 3),
        "TLA1": np.round(12.0 + 0.52 * f.at("thrust_lever_pct"), 1),
        "TLA2": np.round(12.2 + 0.52 * f.at("thrust_lever_pct"), 1),
        "N11": np.round(f.at("engine_speed_pct"), 1),
        "N12": np.round(f.at("engine_speed_pct") + 0.3, 1),
        "LAT": np.round(f.at("latitude_deg"), 6),
        "LON": np.round(f.at("longitude_deg"), 6),
        "WOWL": f.at("main_on_ground").astype(int),
        "WOWR": f.at("main_on_ground").astype(int),
    }
    truth = {
        "RALT": ("radio_height", "ft", None, None),
        "PALT": ("pressure_altitude", "ft", None, None),
        "GPSALT": ("geometric_altitude", "ft", None, None),
        "IVV": ("vertical_speed", "ft/min", None, None),
        "KIAS": ("airspeed", "kt", None, None),
        "GSPD": ("ground_speed", "kt", None, None),
        "PITCH": ("pitch", "deg", "down", None),
        "BANK": ("roll", "deg", "left", None),
        "HDGTRU": ("heading_true", "deg", None, None),
        "NZ": ("normal_accel", "g", None, None),
        "TLA1": ("thrust_lever", "deg", None, None),
        "TLA2": ("thrust_lever", "deg", None, None),
        "N11": ("engine_speed", "%", None, None),
        "N12": ("engine_speed", "%", None, None),
        "LAT": ("latitude", "deg", None, None),
        "LON": ("longitude", "deg", None, None),
        "WOWL": ("main_on_ground", None, None, None),
        "WOWR": ("main_on_ground", None, None, None),
    }
    return OddLog("curt.csv", pl.DataFrame(columns).write_csv(), truth, ("TMS", "ms"), frozenset({"TLA1", "TLA2"}))


def unnamed(f: Flown) -> OddLog:
    """Columns c1 to c21: only values speak; a row count, a temperature, a pitch rate and an angle of attack among them."""
    noise = np.random.default_rng(2).normal(size=len(f.t))
    columns = [
        np.round(f.t, 3),
        np.arange(len(f.t)),
        np.round(f.at("radio_height_ft"), 1),
        np.round(f.at("geometric_altitude_ft"), 1),
        np.round(f.at("vertical_speed_fpm"), 0),
        np.round(f.at("airspeed_kt"), 1),
        np.round(f.at("ground_speed_kt"), 1),
        np.round(f.at("pitch_deg"), 2),
        np.round(f.rate("pitch_deg"), 3),
        np.round(f.at("roll_deg"), 2),
        np.round(f.at("heading_true_deg") % 360.0, 1),
        np.round(f.at("track_true_deg") % 360.0, 1),
        np.round(f.at("normal_accel_g"), 3),
        np.round(f.at("longitudinal_accel_g"), 3),
        np.round(f.at("lateral_accel_g"), 3),
        np.round(f.at("thrust_lever_pct"), 1),
        np.round(f.at("latitude_deg"), 6),
        np.round(f.at("longitude_deg"), 6),
        f.at("main_on_ground").astype(int),
        np.round(14.0 + 0.1 * noise, 1),
        np.round(f.incidence() + 0.1 * noise, 2),
    ]
    said = [
        None, None, ("radio_height", "ft"), ("geometric_altitude", "ft"), ("vertical_speed", "ft/min"), ("airspeed", "kt"),
        ("ground_speed", "kt"), ("pitch", "deg"), None, ("roll", "deg"), ("heading_true", "deg"), ("track_true", "deg"),
        ("normal_accel", "g"), ("longitudinal_accel", "g"), ("lateral_accel", "g"), ("thrust_lever", "%"),
        ("latitude", "deg"), ("longitude", "deg"), ("main_on_ground", None), None, None,
    ]  # fmt: skip
    truth = {f"c{n}": (what[0], what[1], None, None) for n, what in enumerate(said, 1) if what is not None}
    frame = pl.DataFrame({f"c{n}": column for n, column in enumerate(columns, 1)})
    doubtful = frozenset({"c4", "c15", "c16"})
    return OddLog("numbered.csv", frame.write_csv(), truth, ("c1", "s"), doubtful)


def spanish(f: Flown) -> OddLog:
    """ISO stamps, metres and m/s, no vertical speed, longitude before latitude, a switch that is 1 in the air."""
    stamps = [f"2026-11-19T10:{s // 60 % 60:02.0f}:{s % 60:06.3f}Z" for s in f.t]
    columns = {
        "Hora UTC": stamps,
        "Longitud": np.round(f.at("longitude_deg"), 6),
        "Latitud": np.round(f.at("latitude_deg"), 6),
        "Radioaltura (m)": np.round(f.at("radio_height_ft") * 0.3048, 2),
        "Altitud GPS (m)": np.round(f.at("geometric_altitude_ft") * 0.3048, 1),
        "Velocidad suelo (m/s)": np.round(f.at("ground_speed_kt") * 1852.0 / 3600.0, 2),
        "Velocidad aire (m/s)": np.round(f.at("airspeed_kt") * 1852.0 / 3600.0, 2),
        "Cabeceo (rad)": np.round(np.radians(f.at("pitch_deg")), 4),
        "Alabeo (rad)": np.round(np.radians(f.at("roll_deg")), 4),
        "Rumbo": np.round(f.at("heading_true_deg") % 360.0, 1),
        "Aceleracion vertical (m/s2)": np.round(f.at("normal_accel_g") * G, 2),
        "Aceleracion longitudinal (m/s2)": np.round(f.at("longitudinal_accel_g") * G, 2),
        "Palanca de gases": np.round(f.at("thrust_lever_pct") / 100.0, 3),
        "Freno (%)": np.round(f.at("brake_pct")),
        "En tierra": np.where(f.at("main_on_ground") > 0.5, "SI", "NO"),
        "Objetivo de velocidad (m/s)": np.full(len(f.t), 62.0),
    }
    truth = {
        "Longitud": ("longitude", "deg", None, None),
        "Latitud": ("latitude", "deg", None, None),
        "Radioaltura (m)": ("radio_height", "m", None, None),
        "Altitud GPS (m)": ("geometric_altitude", "m", None, None),
        "Velocidad suelo (m/s)": ("ground_speed", "m/s", None, None),
        "Velocidad aire (m/s)": ("airspeed", "m/s", None, None),
        "Cabeceo (rad)": ("pitch", "rad", None, None),
        "Alabeo (rad)": ("roll", "rad", None, None),
        "Rumbo": ("heading_true", "deg", None, None),
        "Aceleracion vertical (m/s2)": ("normal_accel", "m/s2", None, None),
        "Aceleracion longitudinal (m/s2)": ("longitudinal_accel", "m/s2", None, None),
        "Palanca de gases": ("thrust_lever", "fraction", None, None),
        "Freno (%)": ("brake", "%", None, None),
        "En tierra": ("main_on_ground", None, None, "SI"),
    }
    return OddLog("castellano.csv", pl.DataFrame(columns).write_csv(), truth, ("Hora UTC", "iso8601"))


ODD: tuple[Callable[[Flown], OddLog], ...] = (german, french, abbreviated, unnamed, spanish)


@pytest.fixture(scope="session")
def flights(tmp_path_factory: pytest.TempPathFactory) -> list[Flown]:
    """Landings of the invented jet as its richest recorder writes them."""
    inbox = tmp_path_factory.mktemp("invented")
    write_scenario(inbox, seed=11, landings=0.02)
    return flown_in(inbox)


def flown_in(inbox: Path) -> list[Flown]:
    """Every log of the richest recorder in a scenario that ends on the ground."""
    channel_map = load_map(inbox / "maps" / "metric-16.toml")
    found = []
    for log in sorted(inbox.glob("SJ-1-*.parquet")):
        (recording,) = recordings(log, channel_map, log_sha256="0" * 64, log_file=log.name)
        if recording.channels["main_on_ground"].value[-1] > 0.5:
            found.append(Flown(recording))
    return found


@pytest.fixture(scope="session")
def odd_logs(flights: list[Flown]) -> list[OddLog]:
    """The five odd logs, each of another flight."""
    return [write(flights[place % len(flights)]) for place, write in enumerate(ODD)]


@pytest.fixture(scope="session")
def odd_writers() -> tuple[Callable[[Flown], OddLog], ...]:
    """What writes each of them."""
    return ODD
