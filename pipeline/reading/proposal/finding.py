"""What values say of one column: a channel it may be, how strongly, and in which unit and sign."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Finding:
    """Evidence from values.

    `points`: what it adds to the log odds that the column is the channel with that key (negative: speaks against);
    `unit` and `reversed_sign`: what it says of unit and sign, None where nothing; `words`: for a person to read.
    """

    column: str
    channel: str
    points: float
    words: str
    unit: str | None = None
    reversed_sign: bool | None = None
