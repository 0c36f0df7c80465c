"""One drift flag in; what is said of it out: when it began, how large it is, how sure, and what else it could be."""

from typing import Any

from reports.words import counted, number

CHARTS = {
    "hard": ("vertical speed at contact", "ft/min", "firmer", "softer"),
    "long": ("touchdown distance", "ft", "longer", "shorter"),
}
"""Each drift chart: what it watches, its unit, and the words for positive and negative."""


def sentence(flag: dict[str, Any], *, false_alarms: str) -> str:
    """Return what a flag says, for the pilot's own page."""
    what, unit, more, less = CHARTS[flag["chart"]]
    low, high = sorted((flag["shift_low"], flag["shift_high"]))
    way = more if flag["shift"] >= 0 else less
    size = f"{number(abs(flag['shift']))} {unit} {way} than before (90 % interval {number(low)} to {number(high)})"
    spreads = f", {abs(flag['shift_sd']):.1f} times your own usual spread" if flag["shift_sd"] is not None else ""
    since = flag["landings_since_change"]
    return (
        f"Your {what} drifted toward {flag['chart']}: since about {flag['change_at'].day} {flag['change_at']:%B %Y} "
        f"({counted(since, 'watched landing')}) it is {size}{spreads}, after allowing for the conditions the log shows. "
        f"{false_alarms}{_chance(flag)}"
    ).strip()


def _chance(flag: dict[str, Any]) -> str:
    """Return how likely the flag is real, in tenths; never a certainty."""
    if flag["chance_real"] is None:
        return ""
    tenths = min(max(round(10.0 * flag["chance_real"]), 1), 9)
    return f" By the landings that followed and the flags of all pilots, about {tenths} in 10 flags like it are real."


def other_causes(flag: dict[str, Any]) -> str | None:
    """Return a sentence where the aircraft's recorder could be behind a flag as well as the pilot, else None."""
    if flag["source"] == "recorder":
        return "Others on the same aircraft changed with you: it may be its recorder, not you."
    if flag["source"] == "cannot tell":
        return "Too few others flew the same aircraft since: it may be you or the recorder, this cannot tell."
    return None


def who_next(flag_seen_next_by: str) -> str:
    """Return who is shown an open flag after the pilot, as the setting says."""
    if flag_seen_next_by == "training":
        return "You see a flag first; from the next edition on the training page names it beside your pseudonym, without numbers."
    return "You see a flag, nobody else does; the training page counts open flags and says of whom to nobody."
