"""A column of few states and the channel it is taken for in; which state means yes, written to its draft, out."""

import numpy as np

from pipeline.channels import BY_KEY
from pipeline.reading.proposal.draft import Draft
from pipeline.reading.proposal.switches import state_at
from pipeline.reading.proposal.weigh import Weighed

_YES = {
    "main_on_ground": ("gnd", "ground", "on", "true", "yes", "boden", "sol", "tierra", "1"),
    "nose_on_ground": ("gnd", "ground", "on", "true", "yes", "boden", "sol", "tierra", "1"),
    "gear_down": ("down", "dn", "green", "locked", "extended", "ausgefahren", "sorti", "abajo", "true", "1"),
    "autopilot_on": ("on", "engaged", "eng", "cmd", "true", "yes", "ein", "active", "1"),
    "autothrottle_on": ("on", "engaged", "eng", "armed", "true", "yes", "ein", "active", "1"),
}
_OUT = ("on", "true", "yes", "1", "deployed", "extended", "ext", "out")
_PLAIN = (("0", "1"), ("false", "true"), ("no", "yes"), ("off", "on"), ("f", "t"))


def settle_states(draft: Draft, key: str, source: Weighed, contacts: tuple[float, ...]) -> None:
    """Which of two states means yes: for wheels the one held after a contact, for gear the one at it, else by word."""
    series = source.series
    values = np.unique(series.value)
    words = [series.column.states[int(v)] if series.column.states else f"{v:g}" for v in values]
    yes: str | None = None
    if key in ("main_on_ground", "nose_on_ground") and contacts:
        held = [state_at(series, c + 6.0) for c in contacts]
        air = [state_at(series, c - 20.0) for c in contacts]
        if len(set(held)) == 1 and held[0] not in air:
            yes = words[int(np.searchsorted(values, held[0]))]
    elif key == "gear_down" and contacts and len({state_at(series, c) for c in contacts}) == 1:
        yes = words[int(np.searchsorted(values, state_at(series, contacts[0])))]
        draft.evidence.append(f"{yes} at every contact")
    pair = next((pair for pair in _PLAIN if {word.lower() for word in words} <= set(pair)), None)
    by_word = next((word for word in words if word.lower() in _YES.get(key, _OUT)), None)
    if yes is None:
        yes = by_word or (pair[1] if pair else None)
        draft.doubted(0.93 if yes else 0.4, "" if yes else "which state means yes?")
    if len(words) == 1 and words[0] not in ("0", "1", "true", "false", *((yes,) if by_word else ())):
        draft.doubted(0.7, f"only {words[0]!r} is seen: state what means yes")
    plain = pair is not None and yes is not None and yes.lower() == pair[1]
    if yes is not None and (not plain or BY_KEY[key].kind != "switch"):
        draft.options["true_when"] = yes
