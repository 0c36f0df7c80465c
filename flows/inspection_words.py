"""What was seen in a log in, lines for a person out."""

from collections import Counter
from collections.abc import Iterator

from flows.channel_look import ChannelSeen
from flows.inspection import Inspection
from pipeline.reading.proposal.draft import Line
from pipeline.reading.proposal.propose import ACCEPTED, Proposal
from reports.words import REASON_WORDS, counted

_NARROW = 30
"""Signs a column's name takes in the table of the proposal; a longer one goes on to its own line."""

_LISTED = 40
"""Approaches listed one by one; of further ones only how they ended is counted."""
_STUCK_S = 5.0
"""A channel that stands still for less than this is not spoken of: numbers are rounded."""


def inspection_lines(seen: Inspection) -> Iterator[str]:
    """Say what is in a log, what it can and cannot support, and what is wrong with it."""
    yield seen.log_file
    if seen.refused:
        yield f"  cannot be read: {seen.refused}"
    else:
        yield from _held(seen)
    if seen.proposal is not None:
        yield from _proposed(seen.proposal, whole=seen.no_map is not None or seen.refused is not None)
    if seen.page is not None:
        yield f"  traces: {seen.page}"


def _held(seen: Inspection) -> Iterator[str]:
    if seen.no_map:
        yield f"  no map reads it: {seen.no_map}"
    yield f"  {counted(seen.rows, 'row')}, {seen.duration_s:g} s, from {_start(seen)}; map: {seen.map_name}"
    yield "  channel                 unit     samples  rate Hz  smallest step       lowest      highest"
    for one in seen.channels:
        yield (
            f"  {one.channel:<23} {one.unit:<8} {one.samples:>7}  {_number(one.rate_hz):>7}"
            f"  {_number(one.resolution):>13} {one.low:>12g} {one.high:>12g}"
        )
    yield f"  channels it does not have: {', '.join(seen.channels_missing) or 'none'}"
    yield f"  columns not used: {', '.join(seen.columns_unused) or 'none'}"
    yield from (f"  note: {note}" for note in seen.notes)
    yield from _quality(seen)
    yield from _approaches(seen)
    yield f"  {counted(len(seen.supported), 'measure')} supported: {', '.join(seen.supported) or 'none'}"
    yield from _not_supported(seen)


def _quality(seen: Inspection) -> Iterator[str]:
    for one in seen.channels:
        faults = _faults(one)
        if faults:
            yield f"  {one.channel}: {', '.join(faults)}"
    suspects = [one for one in seen.channels if one.suspect]
    for one in suspects:
        yield f"  NOT BELIEVED {one.channel}: {one.suspect}"
    if seen.channels and not suspects:
        yield "  no channel contradicts another"
    for artefact in seen.artefacts:
        kind = artefact.kind.replace("_", " ")
        yield f"  {kind} from {artefact.start_s:.1f} to {artefact.end_s:.1f} s: no flight does this"


def _faults(one: ChannelSeen) -> list[str]:
    said = []
    if one.gaps:
        said.append(f"{counted(one.gaps, 'gap')}, the longest {one.longest_gap_s:.3g} s")
    if one.stuck_s >= _STUCK_S:
        said.append(f"stood still for {one.stuck_s:.3g} s")
    for count, noun in ((one.repeats, "repeated sample"), (one.spikes, "spike"), (one.outside, "value")):
        if count:
            said.append(f"{counted(count, noun)} {'out of range ' if noun == 'value' else ''}taken out")
    if one.lag_s is not None and abs(one.lag_s) >= 0.05:
        side = "late" if one.lag_s > 0 else "early"
        said.append(f"{abs(one.lag_s):.2f} s {side} against {one.lag_against}")
    return said


def _approaches(seen: Inspection) -> Iterator[str]:
    if not seen.approaches:
        yield "  no landing and no approach found"
    for number, one in enumerate(seen.approaches[:_LISTED]):
        touched = "no contact timed"
        if one.contact_t_s is not None:
            touched = (
                f"contact at {one.contact_t_s:.2f} s, standard uncertainty {one.contact_u_s:.2f} s, by {one.evidence}"
            )
        yield f"  approach {number}: {one.outcome.replace('_', ' ')}, {touched}"
    rest = Counter(one.outcome.replace("_", " ") for one in seen.approaches[_LISTED:])
    if rest:
        yield f"  {rest.total()} further approaches: {', '.join(f'{n} {outcome}' for outcome, n in rest.most_common())}"


def _not_supported(seen: Inspection) -> Iterator[str]:
    reasons: dict[str, list[str]] = {}
    for measure, reason in seen.not_supported:
        reasons.setdefault(reason, []).append(measure)
    for reason, measures in reasons.items():
        yield f"  not supported, {REASON_WORDS[reason]}: {', '.join(measures)}"


def _proposed(proposal: Proposal, *, whole: bool) -> Iterator[str]:
    """The table of what columns are taken for; nothing where nothing is proposed."""
    if whole:
        clock = proposal.clock
        if clock is None:
            yield "  no column can be the time: one that only grows, or stamps, is needed"
            return
        yield f"  time: {clock.column} ({clock.unit}), {clock.confidence:.0%} sure: {'; '.join(clock.evidence)}"
    if not proposal.lines:
        return
    rest = "" if whole else " for columns the map does not read"
    yield f"  proposed{rest}; a line below {ACCEPTED:.0%} is a question, not an answer"
    yield f"  {'column':<{_NARROW}} {'channel':<19} {'unit':<9} {'positive':<9} {'sure':>4}  evidence"
    for line in proposal.lines:
        yield _row(line)
        yield from (f"  {'':<{_NARROW}} ? {doubt}" for doubt in line.doubt)
    if proposal.open:
        yield f"  nothing proposed for: {', '.join(name for name, _ in proposal.open)}"


def _row(line: Line) -> str:
    extra = [f"{name} = {value}" for name, value in line.options.items() if name not in ("unit", "positive")]
    evidence = "; ".join((*line.evidence, *extra))
    return (
        f"  {' + '.join(line.columns):<{_NARROW}} {line.key:<19} {line.unit or '-':<9} {line.positive or 'as usual':<9}"
        f" {line.confidence:>4.0%}  {evidence}"
    )


def _start(seen: Inspection) -> str:
    return f"{seen.started_at:%Y-%m-%d %H:%M:%S} UTC" if seen.started_at else "a start it does not tell"


def _number(value: float | None) -> str:
    return "-" if value is None else f"{value:g}"
