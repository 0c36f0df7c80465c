"""A workspace in; out: an invented operator's logs in it, through the whole job to the pages of the last week."""

import hashlib
import json
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from flows.files import write_atomically
from flows.ingest import ingest
from flows.invented.airframes import AIRFRAMES
from flows.invented.scenario import LAST_DAY, write_scenario
from flows.notes import keep_note
from flows.progress import Progress
from flows.week import Edition, week
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.database import reader
from warehouse.marts import read

_DISPUTED = 3
"""Which of the last landings is disputed, counted from the last."""


def demo(
    workspace: Workspace,
    *,
    at: datetime,
    seed: int = 7,
    solo: bool = False,
    landings: float = 1.0,
    tell: Progress | None = None,
) -> Edition:
    """Invent an operator, or a lone pilot, and run the job on it.

    Parameters
    ----------
    workspace : must hold nothing yet.
    at : UTC instant of this run, noted with new rows.
    seed : the same seed gives the same logs, pseudonyms and pages.
    solo : a lone pilot with one aircraft.
    landings : scales how many landings there are.
    tell : told how far the run is.

    Raises
    ------
    SettingsError
        The workspace holds something already.
    """
    if seed < 0:
        message = f"--seed {seed}: is negative; give 0 or a greater whole number"
        raise SettingsError(message)
    if workspace.root.exists() and any(workspace.root.iterdir()):
        message = f"{workspace.root}: is not empty; the demo wants a fresh folder: name one with --workspace"
        raise SettingsError(message)
    workspace.write_settings()
    settings = workspace.settings_file.read_text("utf-8") + _types()
    write_atomically(workspace.settings_file, settings.encode())
    key = hashlib.sha256(f"invented operator {seed}".encode()).hexdigest()
    write_atomically(workspace.root / workspace.settings().privacy.key_file, key.encode(), mode=0o600)
    write_scenario(workspace.inbox, seed=seed, solo=solo, landings=landings, progress=_inventing(tell))
    ingested = ingest(workspace, at=at, tell=tell)
    _dispute(workspace, at=at)
    return replace(week(workspace, LAST_DAY, at=at, tell=tell), ingested=ingested)


_STATED = (
    "profile",
    "landing_flap_deg",
    "wheel_track_ft",
    "tail_pitch_deg",
    "pod_roll_deg",
    "tip_roll_deg",
    "crosswind_max_kt",
    "tailwind_max_kt",
    "crab_max_deg",
)
"""What the settings say of an invented type in its own words."""


def _types() -> str:
    """What the settings say of the invented types."""
    return "".join(
        f"\n[types.{json.dumps(a.name)}]\nidle_at_gate_pct = 3.0\nantenna_ahead_ft = {a.antenna_ahead_m / 0.3048:.1f}\n"
        + "".join(f"{key} = {json.dumps(value)}\n" for key in _STATED if (value := getattr(a, key)) is not None)
        for a in AIRFRAMES.values()
    )


def _dispute(workspace: Workspace, *, at: datetime) -> None:
    """Have somebody say of one late landing that the named pilot did not fly it."""
    with reader(workspace.database) as con:
        landings = read(con, "eligible_landing").sort("contact_at", "landing_id", descending=True)
    if landings.height > _DISPUTED:
        said = "I had the controls below 200 ft; the manifest names the other pilot."
        keep_note(workspace, landings["landing_id"][_DISPUTED], said, kind="dispute", at=at)


def _inventing(tell: Progress | None) -> Callable[[int, int], None] | None:
    return None if tell is None else lambda done, of: tell("inventing", done, of)
