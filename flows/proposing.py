"""A proposal in; the channel map that its sure lines make out, read back from the text a person would be given."""

from pathlib import Path

from pipeline.errors import MapError
from pipeline.reading.channel_map import ChannelMap, load_map
from pipeline.reading.proposal.map_text import map_text
from pipeline.reading.proposal.propose import Proposal

PROPOSED = "the map proposed below"


def as_map(proposal: Proposal, folder: Path, *, log_file: str) -> ChannelMap | None:
    """Return the map that a proposal's sure lines make, read back from its own text; None where they make none."""
    file = folder / PROPOSED
    if proposal.clock is None or not proposal.accepted:
        return None
    file.write_text(map_text(proposal, log_file=log_file), encoding="utf-8")
    try:
        return load_map(file)
    except MapError:
        return None
