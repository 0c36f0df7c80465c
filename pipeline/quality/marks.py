"""A recording in, the marks each of its landings bears out: which channels are suspect, which artefact came before."""

from pipeline.recording import Recording

AFTER_S = 30.0
"""A landing this long after an artefact is still marked by it."""
KINDS = {
    "reposition": "place jumped",
    "freeze": "everything stood still",
    "time_acceleration": "time ran faster than the motion",
}


def suspect_names(recording: Recording) -> str | None:
    """Names of the suspect channels, separated by spaces; None without any."""
    return " ".join(recording.suspect) or None


def artefact_words(recording: Recording, anchor_s: float) -> str | None:
    """What no flight does within 30 s before a landing or at it, in words; None where nothing did.

    Parameters
    ----------
    anchor_s : first contact, else the lowest point.
    """
    near = [a for a in recording.artefacts if a.start_s <= anchor_s + 1.0 and a.end_s >= anchor_s - AFTER_S]
    return "; ".join(f"{KINDS[a.kind]} at {a.start_s:.0f} s" for a in near) or None
