"""A landing, as a person calls it, and what is said of it in; the note kept with it."""

from datetime import datetime

from flows.landing_names import landing_named
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.database import reader, writer
from warehouse.marts import read
from warehouse.notes import Kind, add_note, is_disputed


def keep_note(
    workspace: Workspace, landing: str, text: str, *, index: int | None = None, kind: Kind = "remark", at: datetime
) -> str:
    """Keep a note on a landing; return the landing's id.

    Parameters
    ----------
    landing, index : what the landing is called, and its number where its log has several.
    kind : a remark; a dispute, from which on the landing is in nobody's figures; or that the dispute is settled.
    at : UTC instant.

    Raises
    ------
    SettingsError
        No landing or several are called so, the text is empty, or there is no dispute to settle.
    """
    if not text.strip():
        message = "the note is empty; say what is to be kept with the landing"
        raise SettingsError(message)
    with reader(workspace.database) as con:
        approaches = read(con, "approaches").select("landing_id", "log_sha256", "log_file", "landing_index")
        landing_id = landing_named(approaches, landing, index)
        if kind == "settled" and not is_disputed(con, landing_id):
            message = f"{landing}: nobody disputes it; there is nothing to settle"
            raise SettingsError(message)
    with writer(workspace.database) as con:
        add_note(con, landing_id, kind=kind, note=text.strip(), at=at)
    return landing_id
