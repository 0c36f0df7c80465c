"""A proposal in; the text of a channel map out, doubtful lines behind a #, each line with its evidence."""

import json

from pipeline.reading.proposal.draft import Line
from pipeline.reading.proposal.propose import ACCEPTED, Proposal


def map_text(proposal: Proposal, *, log_file: str) -> str:
    """Write a proposal as a channel map a person can accept or settle."""
    clock = proposal.clock
    lines = [
        f"# Proposed from {_one_line(log_file)}. Lines that are at least {ACCEPTED:.0%} sure stand as they are;",
        "# the others stand behind a #: settle the question, then take the # away.",
        "",
    ]
    if clock is not None:
        lines += [f"# {clock.confidence:.0%} sure: {_one_line('; '.join(clock.evidence))}"]
        lines += [f"time = {{ column = {_text(clock.column)}, unit = {_text(clock.unit)} }}"]
    lines += ["", "[channels]"]
    taken: set[str] = set()
    for line in proposal.lines:
        sure = line.confidence >= ACCEPTED and line.key not in taken
        taken |= {line.key} if sure else set()
        lines += [f"# {_one_line(said(line))}", ("" if sure else "# ") + _entry(line)]
    if proposal.open:
        lines += ["", "# Columns nothing is proposed for:"]
        lines += [f"#   {_one_line(name)}{f' ({why})' if why else ''}" for name, why in proposal.open]
    return "\n".join(lines) + "\n"


def said(line: Line) -> str:
    """What speaks for a line and what keeps it from being surer, in one sentence."""
    doubt = f"; but {'; '.join(line.doubt)}" if line.doubt else ""
    return f"{line.confidence:.0%} sure: {'; '.join(line.evidence)}{doubt}"


def _entry(line: Line) -> str:
    columns = [_text(column) for column in line.columns]
    first = f"column = {columns[0]}" if len(columns) == 1 else f"columns = [{', '.join(columns)}]"
    rest = [
        f"{name} = {_text(value) if isinstance(value, str) else repr(value)}" for name, value in line.options.items()
    ]
    return f"{line.key} = {{ {', '.join([first, *rest])} }}"


def _text(value: str) -> str:
    """A TOML string; JSON's spelling of one is TOML's."""
    return json.dumps(value, ensure_ascii=True).replace("\\/", "/")


def _one_line(text: str) -> str:
    return "".join(sign if sign.isprintable() else "?" for sign in text)
