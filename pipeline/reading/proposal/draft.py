"""One line of a proposed channel map: finished, and while it is made."""

from dataclasses import dataclass

Option = str | float


@dataclass(frozen=True)
class Line:
    """One proposed line of a channel map.

    `options` are the map's own, in order; `confidence` 0 to 1 is the product of those of channel, unit, sign and the
    rest; `evidence` says why, `doubt` what keeps it from being surer.
    """

    key: str
    columns: tuple[str, ...]
    options: dict[str, Option]
    confidence: float
    evidence: tuple[str, ...]
    doubt: tuple[str, ...]

    @property
    def unit(self) -> str | None:
        """Unit the line states."""
        unit = self.options.get("unit")
        return unit if isinstance(unit, str) else None

    @property
    def positive(self) -> str | None:
        """Direction the line says the column counts positive; None where it is the usual one."""
        positive = self.options.get("positive")
        return positive if isinstance(positive, str) else None


@dataclass
class Draft:
    """A line while it is made: every doubt multiplies its confidence."""

    options: dict[str, Option]
    confidence: float
    evidence: list[str]
    doubt: list[str]

    def doubted(self, confidence: float, why: str = "") -> None:
        """Take a part of the confidence away, with what there is to settle."""
        self.confidence *= confidence
        if why:
            self.doubt.append(why)
