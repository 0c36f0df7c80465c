"""A workspace in; out: an invented operator's logs in it, through the whole job to the pages of the last week."""

import hashlib
import json
from collections.abc import Callable
from datetime import datetime

from flows.files import write_atomically
from flows.invented.airframes import AIRFRAMES
from flows.invented.scenario import LAST_DAY, write_scenario
from flows.progress import Progress
from flows.week import Edition, week
from flows.workspace import Workspace
from pipeline.errors import SettingsError


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
    return week(workspace, LAST_DAY, at=at, tell=tell)


def _types() -> str:
    """What the settings say of the invented types."""
    return "".join(
        f"\n[types.{json.dumps(a.name)}]\nprofile = {json.dumps(a.profile)}\nlanding_flap_deg = {a.landing_flap_deg}\n"
        f"idle_at_gate_pct = 3.0\nantenna_ahead_ft = {a.antenna_ahead_m / 0.3048:.1f}\n"
        for a in AIRFRAMES.values()
    )


def _inventing(tell: Progress | None) -> Callable[[int, int], None] | None:
    return None if tell is None else lambda done, of: tell("inventing", done, of)
