"""Map files in, the channel maps of a run out: those tried on every log, those named for one, those used before."""

from collections.abc import Iterable
from pathlib import Path

from flows.files import copy_atomically
from pipeline.errors import MapError
from pipeline.reading.channel_map import ChannelMap, load_map


class Maps:
    """The channel maps of a run.

    Parameters
    ----------
    tried : files of the maps that are tried on each log that has none named.
    kept : folder of the maps that accepted logs were read with, each under its hash.

    Raises
    ------
    MapError
        A file is no valid map.
    """

    def __init__(self, tried: Iterable[Path], *, kept: Path) -> None:
        self._kept = kept
        self._files: dict[str, Path] = {}
        self._loaded: dict[Path, ChannelMap] = {}
        self.tried = tuple({found.sha256: found for found in map(self.named, tried)}.values())

    def named(self, file: Path) -> ChannelMap:
        """Return the map in `file`."""
        if file not in self._loaded:
            self._loaded[file] = load_map(file)
            self._files.setdefault(self._loaded[file].sha256, file)
        return self._loaded[file]

    def beside(self, table: Path, name: str) -> ChannelMap:
        """Return the map that a manifest at `table` names: a path from the manifest's folder, or one in its `maps`."""
        places = (table.parent / name, table.parent / "maps" / name)
        for place in places:
            if place.is_file():
                return self.named(place)
        message = (
            f"{table.name}: map {name} is neither at {places[0]} nor at {places[1]}; write it there or mend the row"
        )
        raise MapError(message)

    def keep(self, sha256: str) -> None:
        """Keep the file of a map that an accepted log was read with; canonical names need none."""
        target = self._kept / f"{sha256}.toml"
        if sha256 in self._files and not target.exists():
            copy_atomically(self._files[sha256], target)

    def used_before(self, sha256: str) -> ChannelMap | None:
        """Return the kept map of that hash; None where the log bears the canonical names."""
        target = self._kept / f"{sha256}.toml"
        return self.named(target) if target.is_file() else None
