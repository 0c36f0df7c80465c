"""A recording in, how far its channels can be believed out; and the recording without those that cannot."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from pipeline.channels import CHANNELS
from pipeline.quality.artefacts import find_artefacts
from pipeline.quality.attitude import attitude_checks
from pipeline.quality.check import Check
from pipeline.quality.courses import Courses
from pipeline.quality.directions import direction_checks
from pipeline.quality.engines import engine_checks
from pipeline.quality.facts import ChannelQuality, channel_facts
from pipeline.quality.frozen import NEVER_STILL, frozen
from pipeline.quality.grid import Grid
from pipeline.quality.lag import lags
from pipeline.quality.path_angle import blamed_by_path
from pipeline.quality.spans import span_checks
from pipeline.quality.speeds import speed_checks
from pipeline.quality.states import state_checks, weight_check
from pipeline.quality.swapped import attitude_swapped
from pipeline.quality.turning import roll_checks
from pipeline.quality.verdict import agreeing, suspects
from pipeline.quality.vertical import vertical_checks
from pipeline.quality.wind import wind_checks
from pipeline.recording import Artefact, Recording, Repair, Samples

SET_ASIDE_SHARE = 0.05
"""A channel of which more than this share of values is out of its plausible range or no number is not believed."""


@dataclass(frozen=True)
class Quality:
    """What examining a recording found.

    `channels`: every channel that was read, suspects too; `checks`: every check that was made; `suspect`: channel ->
    why it is not to be believed, in plain words; `artefacts`: what no flight does, in order of time.
    """

    channels: tuple[ChannelQuality, ...]
    checks: tuple[Check, ...]
    suspect: dict[str, str]
    artefacts: tuple[Artefact, ...]


def examine(recording: Recording, *, stated_weight_kg: float | None = None) -> Quality:
    """Look at each channel by itself and against the others.

    Heights, vertical speed and acceleration come first; what is left of them then judges directions and attitude, and
    those the speeds, so that one wrong channel does not drag others down.

    Parameters
    ----------
    recording : as it was read; it is not changed.
    stated_weight_kg : landing weight as the manifest states it, to hold the weight channel against.
    """
    found = {**recording.suspect, **_out_of_range(recording)}
    courses = Courses(Grid.over(without(recording, found)))
    checks: list[Check] = []
    for stage in STAGES:
        made = stage(courses)
        guilty = suspects(made, blamed=blamed_by_path(courses, made), trusted=agreeing(checks))
        checks += made
        found |= guilty
        courses = Courses(courses.grid.without(guilty)) if guilty else courses
    if stated_weight_kg and courses.grid.has("gross_weight_kg"):
        checks.append(weight_check(courses, stated_weight_kg))
        found |= suspects(checks[-1:])
    late = lags(courses, found)
    facts = (
        channel_facts(name, samples, recording.repairs.get(name, Repair()))
        for name, samples in recording.channels.items()
    )
    channels = tuple(
        replace(
            one,
            lag_s=late[one.channel][0] if one.channel in late else None,
            lag_against=late[one.channel][1] if one.channel in late else None,
            suspect=found.get(one.channel),
        )
        for one in facts
    )
    unread = (_unread(name, found[name]) for name in found if name not in recording.channels)
    channels = (*channels, *unread)
    return Quality(channels, tuple(checks), found, find_artefacts(courses))


def _heights(courses: Courses) -> list[Check]:
    return [*vertical_checks(courses), *state_checks(courses)]


def _sides(courses: Courses) -> list[Check]:
    ups = attitude_swapped(courses, attitude_checks(courses))
    return [*direction_checks(courses), *roll_checks(courses), *span_checks(courses), *ups]


def _speeds(courses: Courses) -> list[Check]:
    return [*speed_checks(courses), *engine_checks(courses)]


STAGES: tuple[Callable[[Courses], list[Check]], ...] = (_heights, _sides, _speeds, wind_checks)
"""Checks in an order in which each rests on channels that the stages before it have judged."""


def _out_of_range(recording: Recording) -> dict[str, str]:
    """Channels of which reading set aside more than a few values."""
    found = {}
    for name, repair in recording.repairs.items():
        held = len(recording.channels[name].t) if name in recording.channels else 0
        if repair.outside > SET_ASIDE_SHARE * (held + repair.outside):
            channel = CHANNELS[name]
            limits = f"{channel.low:g} to {channel.high:g} {channel.unit}".rstrip()
            found[name] = f"{repair.outside} of {held + repair.outside} values are not {limits}"
    return found


def _unread(name: str, why: str) -> ChannelQuality:
    """A channel of which nothing could be read."""
    return ChannelQuality(name, 0, None, None, 0, 0.0, 0.0, 0, 0, 0, suspect=why)


def vetted(recording: Recording, quality: Quality) -> Recording:
    """Return the recording with its artefacts, without its suspect channels, which it names, and held values."""
    kept = without(recording, quality.suspect)
    if not any(artefact.kind == "freeze" for artefact in quality.artefacts):
        kept = _thawed(kept)
    return replace(kept, suspect=quality.suspect, artefacts=quality.artefacts)


def _thawed(recording: Recording) -> Recording:
    """Return the recording without the values that single channels held while the aircraft went on."""
    held = {n: frozen(s.t, s.value) for n, s in recording.channels.items() if n in NEVER_STILL}
    moved = {
        name: Samples(recording.channels[name].t[~mask], recording.channels[name].value[~mask])
        for name, mask in held.items()
        if mask is not None
    }
    notes = tuple(
        f"{CHANNELS[n].key}: {int(m.sum())} values held before a jump left out"
        for n, m in held.items()
        if m is not None
    )
    return replace(recording, channels=dict(recording.channels) | moved, notes=recording.notes + notes)


def without(recording: Recording, names: dict[str, str]) -> Recording:
    """Return the recording without some channels."""
    if not any(name in recording.channels for name in names):
        return recording
    return replace(recording, channels={n: s for n, s in recording.channels.items() if n not in names})
