"""A channel's rule in a map in, the straight line from its readings to canonical values out, or why there is none."""

from dataclasses import dataclass

from pipeline.channels import Channel
from pipeline.errors import MapError
from pipeline.reading.rule import ChannelRule
from pipeline.reading.units import convert

GLIDESLOPE_DOT_DEG = 0.35
"""One dot of two: the glide path is normally 1.4 deg thick (Aeronautical Information Manual 1-1-9), 0.7 deg a side."""

_OPPOSITE = {"up": "down", "down": "up", "above": "below", "below": "above", "left": "right", "right": "left"}
_DEVIATIONS = ("glideslope", "localiser")


@dataclass(frozen=True)
class Scaling:
    """Canonical value = `scale` x reading + `offset`; `missing` says what a channel left out would need."""

    scale: float
    offset: float = 0.0
    missing: str | None = None


def scaling(channel: Channel, rule: ChannelRule) -> Scaling:
    """Line from readings to the channel's unit and sign.

    Raises
    ------
    MapError
        The rule's options do not fit the channel or each other, or its unit is unknown or of another dimension.
    """
    _check_options(channel, rule)
    if rule.states or channel.kind == "switch":
        return Scaling(1.0)
    if rule.unit is None and rule.idle is None:
        raise MapError(f"unit is missing; state it, for example unit = {channel.unit!r}")
    if rule.idle is not None and rule.full is not None:
        share = 100.0 / (rule.full - rule.idle)
        return Scaling(share, -share * rule.idle)
    sign = _sign(channel, rule)
    if channel.key in _DEVIATIONS:
        return _deviation(channel, rule, sign)
    if rule.full_deg is not None:
        return Scaling(convert(rule.unit or "", "%") * rule.full_deg / 100.0)
    scale = sign * convert(rule.unit or "", channel.unit)
    if rule.at_rest is None:
        return Scaling(scale)
    return Scaling(scale, (1.0 if channel.key == "normal_accel" else 0.0) - scale * rule.at_rest)


def _deviation(channel: Channel, rule: ChannelRule, sign: float) -> Scaling:
    """Dots of a two-dot scale; how wide a localiser's dot is depends on the runway, a glideslope's does not."""
    if channel.key == "glideslope":
        if rule.unit == "dots":
            return Scaling(sign * (rule.dot_deg or GLIDESLOPE_DOT_DEG) / GLIDESLOPE_DOT_DEG)
        if rule.dot_deg is not None:
            raise MapError("dot_deg belongs to unit = 'dots'; leave it out where the unit is an angle")
        return Scaling(sign * convert(rule.unit or "", "deg") / GLIDESLOPE_DOT_DEG)
    if rule.unit == "dots" and rule.dot_deg is None:
        return Scaling(sign)
    if rule.unit == "dots":
        return Scaling(sign, missing="unit = 'dots' without dot_deg, in dots of half the runway's full scale")
    degrees = convert(rule.unit or "", "deg")
    if rule.dot_deg is None:
        return Scaling(sign, missing="dot_deg, the angle of half the runway's full scale")
    return Scaling(sign * degrees / rule.dot_deg)


def _sign(channel: Channel, rule: ChannelRule) -> float:
    if rule.positive is None or rule.positive == channel.positive:
        return 1.0
    if channel.positive is None:
        raise MapError(f"positive = {rule.positive!r} means nothing for {channel.key}; leave it out")
    if rule.positive == _OPPOSITE[channel.positive]:
        return -1.0
    raise MapError(
        f"positive = {rule.positive!r} does not fit {channel.key};"
        f" use {channel.positive!r} or {_OPPOSITE[channel.positive]!r}"
    )


def _check_options(channel: Channel, rule: ChannelRule) -> None:
    """Refuse options that would be without effect: a map that says something means it."""
    percent, switch = channel.unit == "%", channel.kind == "switch"
    yes_no = switch or bool(rule.states)
    only = {
        "at_rest": channel.unit == "g",
        "idle": percent and not yes_no,
        "full_deg": channel.unit == "deg" and channel.kind == "number",
        "dot_deg": channel.key in _DEVIATIONS,
        "true_when": percent or switch,
        "unit": not yes_no,
        "positive": not yes_no and rule.idle is None and rule.full_deg is None,
    }
    for option, allowed in only.items():
        if getattr(rule, option) is not None and not allowed:
            raise MapError(f"{option} does not go with {channel.key} as it is described here; leave it out")
    if rule.combine == "mean" and yes_no:
        raise MapError("combine = 'mean' does not go with yes and no; use 'any' or 'all'")
    if rule.combine in {"any", "all"} and not yes_no:
        raise MapError(f"combine = {rule.combine!r} goes with yes and no only; numbers are averaged")
