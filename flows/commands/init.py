"""`roundout init`: a workspace with commented settings."""

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from flows.commands.terminal import named_folder, say
from flows.workspace import Workspace


def init(folder: Annotated[Path, Parameter(converter=named_folder)], /) -> int:
    """Make a workspace whose settings file says what every setting means.

    Parameters
    ----------
    folder
        Where; a workspace that is there already keeps its settings and all it holds.
    """
    workspace = Workspace.at(folder)
    if workspace.write_settings():
        say(f"Workspace {workspace.root}: settings in {workspace.settings_file.name}, logs go to {workspace.inbox}.")
    else:
        say(f"Workspace {workspace.root} has settings already; they stay as they are.")
    return 0
