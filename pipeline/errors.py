"""What can be wrong with an input, each with the exit status a command ends with.

A message says which file, row or key; what was found; what was needed; and how to mend it.
"""


class RoundoutError(Exception):
    """Anything a person can mend. `exit_status` is what the command line ends with."""

    exit_status = 2


class LogError(RoundoutError):
    """A log that cannot be read as the map says; it goes to quarantine with this message."""

    exit_status = 3


class MapError(RoundoutError):
    """A channel map that is not valid, or none or several that fit a log."""


class ManifestError(RoundoutError):
    """A manifest, exposure or runway table with a row or column that cannot be used."""


class SettingsError(RoundoutError):
    """Settings or command line arguments that are not valid; names the key."""


class StoreError(RoundoutError):
    """The workspace is locked by another run, or the disk refused; nothing was lost, run again."""

    exit_status = 4
