"""An edition's frames in; its pages on disk out, one folder an audience, all of them or none."""

import os
import shutil
from pathlib import Path
from urllib.parse import quote

from reports.edition_data import EditionData
from reports.office import office_page
from reports.pilot import pilot_page
from reports.training import training_page

__all__ = ["EditionData", "folder_name", "write_edition"]


def write_edition(folder: Path, data: EditionData) -> list[Path]:
    """Write the pages of an edition into the week's own folder, replacing what was there.

    Parameters
    ----------
    folder : the week's folder, such as reports/2026-W47; its parents are made where missing.
    data : the edition.

    Returns
    -------
    list
        The pages: `pilots/<pseudonym>/index.html` in order, `training/index.html`, `office/index.html`.

    All pages are written beside `folder` first and flushed to disk; then the old edition is moved away and the new one
    into its place. A run that dies before leaves the old edition whole; one that dies between the two moves leaves it
    under a hidden name, and the next run puts it back before it starts.
    """
    flown = data.flown()
    fresh, old = (folder.with_name(f".{folder.name}.{part}") for part in ("new", "old"))
    if old.exists() and not folder.exists():
        old.rename(folder)
    for leftover in (fresh, old):
        shutil.rmtree(leftover, ignore_errors=True)
    names = [Path("pilots", folder_name(pilot), "index.html") for pilot in data.pilots()]
    for name, pilot in zip(names, data.pilots(), strict=True):
        _write(fresh / name, pilot_page(data, flown, pilot))
    _write(fresh / "training" / "index.html", training_page(data, flown))
    _write(fresh / "office" / "index.html", office_page(data, flown))
    if folder.exists():
        folder.rename(old)
    fresh.rename(folder)
    shutil.rmtree(old, ignore_errors=True)
    return [folder / name for name in (*names, Path("training", "index.html"), Path("office", "index.html"))]


def folder_name(pilot: str) -> str:
    """Return a pseudonym as the name of one folder: no separator, no leading dot, nothing a shell or browser would read."""
    safe = quote(pilot, safe="")
    return f"%2E{safe[1:]}" if safe.startswith(".") else safe


def _write(page: Path, text: str) -> None:
    page.parent.mkdir(parents=True, exist_ok=True)
    with page.open("w", encoding="utf-8", newline="\n") as handle:
        handle.write(text)
        handle.flush()
        os.fsync(handle.fileno())
