"""Proposals from several logs of one recorder in; one proposal out: what one flight leaves open another may settle."""

from collections.abc import Sequence
from dataclasses import replace

from pipeline.reading.proposal.draft import Line
from pipeline.reading.proposal.propose import ACCEPTED, Proposal

_AGAINST = 0.5


def merged(proposals: Sequence[Proposal]) -> Proposal:
    """Put proposals for the same columns together.

    A line is as sure as in the log that shows it best, unless another log is as sure of something else for that
    channel or column: then it is doubted. The time column must be the same in all, else it is doubted as well.
    """
    first = proposals[0]
    if len(proposals) == 1:
        return first
    every = [line for proposal in proposals for line in proposal.lines]
    best: dict[tuple[str, str, str], Line] = {}
    for line in every:
        meaning = _meaning(line)
        if meaning not in best or line.confidence > best[meaning].confidence:
            best[meaning] = line
    sure = [line for proposal in proposals for line in proposal.accepted]
    lines = sorted((_held_against(line, sure) for line in best.values()), key=lambda line: -line.confidence)
    order = {line.key: place for place, line in reversed(list(enumerate(every)))}
    clock = first.clock
    if clock is not None and any(
        p.clock is None or (p.clock.column, p.clock.unit) != (clock.column, clock.unit) for p in proposals
    ):
        clock = replace(clock, confidence=clock.confidence * _AGAINST)
    columns = {column for line in lines for column in line.columns}
    return Proposal(
        clock,
        tuple(sorted(lines, key=lambda line: order[line.key])),
        tuple((name, why) for name, why in first.open if name not in columns),
    )


def _meaning(line: Line) -> tuple[str, str, str]:
    return line.key, repr(line.columns), repr(sorted(line.options.items()))


def _held_against(line: Line, sure: Sequence[Line]) -> Line:
    """Doubt a line that a sure line of another log contradicts."""
    rivals = [
        other
        for other in sure
        if _meaning(other) != _meaning(line) and (other.key == line.key or set(other.columns) & set(line.columns))
    ]
    if not rivals or line.confidence < ACCEPTED:
        return line
    doubt = f"another log says {rivals[0].key} from {', '.join(rivals[0].columns)}"
    return replace(line, confidence=line.confidence * _AGAINST, doubt=(*line.doubt, doubt))
