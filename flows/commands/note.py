"""`roundout note`: a remark on a landing, or a dispute about who flew it."""

from datetime import UTC, datetime

from flows.commands.terminal import WorkspaceOption, say
from flows.notes import keep_note
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.notes import Kind


def note(
    landing: str,
    text: str,
    /,
    *,
    number: int | None = None,
    dispute: bool = False,
    settle: bool = False,
    workspace: WorkspaceOption = None,
) -> int:
    """Keep a remark on a landing with it, or dispute who flew it.

    A disputed landing leaves its pilot's figures at once and is counted as disputed, until it is settled; correct the
    manifest first where somebody else flew it.

    Parameters
    ----------
    landing
        Its id or the beginning of it, or its log.
    text
        What is to be kept with the landing.
    number
        Its number among the log's landings, from 0, where the log has several.
    dispute
        The pilot it stands for did not fly it, or not alone.
    settle
        The dispute is over.
    """
    if dispute and settle:
        message = "--dispute and --settle: give one of them"
        raise SettingsError(message)
    kind: Kind = "dispute" if dispute else "settled" if settle else "remark"
    kept = keep_note(Workspace.at(workspace), landing, text, index=number, kind=kind, at=datetime.now(UTC))
    say(f"{kept}: {_DONE[kind]}")
    return 0


_DONE: dict[Kind, str] = {
    "remark": "noted.",
    "dispute": "disputed; from now on it is in nobody's figures, and counted as disputed.",
    "settled": "settled; it counts again for the pilot the manifest names.",
}
