"""A column (or several of a kind) and the channel it is taken for in; its line of a map, with its doubts, out."""

import numpy as np

from pipeline.channels import BY_KEY
from pipeline.reading.proposal.draft import Draft, Line
from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.states import settle_states
from pipeline.reading.proposal.switches import two_states
from pipeline.reading.proposal.units import UnitSaid, unit_of_column
from pipeline.reading.proposal.weigh import DEPLOYED, Weighed

_USUAL_SIGN = {"vertical_speed": 0.93, "pitch": 0.8, "roll": 0.8, "normal_accel": 0.97, "lateral_accel": 0.6,
               "localiser": 0.6, "glideslope": 0.6}  # fmt: skip
"""How often a log counts the channel positive as is usual, where nothing says so (our own choice)."""
_LOAD_FACTORS = ("nx", "ny", "nz", "gx", "gy", "gz", "gload", "vertg", "longg", "latg", "lastvielfaches", "lastfaktor")
"""Words for an acceleration as a multiple of gravity."""
_TURNED = {"up": "down", "above": "below", "right": "left"}


def line_of(key: str, sources: list[Weighed], contacts: tuple[float, ...], *, akin: str | None = None) -> Line:
    """Propose the line of a channel from its one or several columns; `akin` is the unit of a kindred channel."""
    first = sources[0]
    found = [f for f in first.findings[key] if f.points > 0.0]
    draft = Draft({}, min(source.chances[key] for source in sources), [], [])
    if first.name.points.get(key, 0.0) > 0.0:
        draft.evidence.append(f"named {first.name.words.get(key, '')}".strip())
    draft.evidence += dict.fromkeys(f.words for f in found)
    pair = two_states(first.series)
    if BY_KEY[key].kind == "switch" or first.series.column.states or (key in DEPLOYED and pair and max(pair) <= 1.0):
        settle_states(draft, key, first, contacts)
    else:
        stated = first.unit or ("g" if first.name.words.get(key, "") in _LOAD_FACTORS else None)
        said = unit_of_column(BY_KEY[key], first.series.value, stated, found)
        if akin is not None and said.why and stated is None:
            said = UnitSaid(akin, 0.93, f"{akin} as a kindred column", "")
        _number(draft, key, first, said, found)
    return Line(
        key, tuple(source.series.name for source in sources), draft.options, draft.confidence, tuple(draft.evidence),
        tuple(draft.doubt),
    )  # fmt: skip


def _number(draft: Draft, key: str, source: Weighed, said: UnitSaid, found: list[Finding]) -> None:
    if said.unit is not None:
        draft.options["unit"] = said.unit
    draft.doubted(said.confidence, said.why)
    if said.words:
        draft.evidence.append(said.words)
    _sign(draft, key, source, found)
    if key == "normal_accel":
        _rest(draft, source)
    if key == "thrust_lever":
        _travel(draft, source)
    if key == "flap" and said.unit not in ("deg", "rad"):
        draft.doubted(0.3, "state full_deg, the angle of full flap")
    if BY_KEY[key].kind == "angle":
        _north(draft, source, found)


def _sign(draft: Draft, key: str, source: Weighed, found: list[Finding]) -> None:
    usual = BY_KEY[key].positive
    shown = {f.reversed_sign for f in found if f.reversed_sign is not None}
    if usual is None:
        if True in shown:
            draft.doubted(0.2, "its sign is turned, and a map cannot turn this channel's")
        return
    if usual == "up" and key.endswith(("height", "altitude")):
        return
    if len(shown) == 1:
        draft.confidence *= 0.985
        turned = shown.pop()
    else:
        turned = key == "vertical_speed" and any(w in source.name.words.get(key, "") for w in ("desc", "sink", "disc"))
        draft.doubted(_USUAL_SIGN.get(key, 1.0), "" if _USUAL_SIGN.get(key, 1.0) > 0.85 else "nothing tells its sign")
    if turned:
        draft.options["positive"] = _TURNED[usual]


def _rest(draft: Draft, source: Weighed) -> None:
    """Acceleration without the 1 g says so."""
    size = 9.80665 if draft.options.get("unit") == "m/s2" else 1.0
    rest = float(np.nanmedian(source.series.even))
    if abs(rest) < 0.3 * size:
        draft.options["at_rest"] = 0.0
        draft.evidence.append("reads about 0 in steady flight")


def _travel(draft: Draft, source: Weighed) -> None:
    """A lever's percent counts from idle; any other scale needs both ends, which a flight does not show for sure."""
    value = source.series.value[np.isfinite(source.series.value)]
    least, most = float(np.quantile(value, 0.01)), float(np.quantile(value, 0.99))
    unit = draft.options.get("unit")
    idle = _held_least(value)
    if unit == "deg" or (unit in ("%", "fraction") and abs(idle) > 0.08 * max(most, 1e-9)):
        draft.options |= {"idle": round(idle, 3), "full": round(max(most, idle + 1e-3), 3)}
        draft.doubted(0.3, f"it rests at {idle:.3g}, its largest is {most:.3g}: state its readings at idle and full")
    elif least < -0.3 * most:
        draft.doubted(0.8, "it goes far below idle; in reverse?")


def _held_least(value: np.ndarray) -> float:
    """The low reading that is held longest: the idle stop."""
    low = value[value < np.quantile(value, 0.05) + 0.2 * np.ptp(value)]
    counts, edges = np.histogram(low, bins=40)
    at = int(np.argmax(counts))
    return float(np.median(low[(low >= edges[at]) & (low <= edges[at + 1])]))


def _north(draft: Draft, source: Weighed, found: list[Finding]) -> None:
    """True or magnetic: by its name, or because it agrees with the course of the positions."""
    if not (source.name.true or source.name.magnetic or any(f.points >= 3.0 for f in found)):
        draft.doubted(0.6, "true or magnetic? nothing tells")
