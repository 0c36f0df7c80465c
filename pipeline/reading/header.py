"""The first bytes of a CSV log in; its encoding, separator, column names and where its rows begin out."""

import codecs
import csv
import re
from dataclasses import dataclass

from pipeline.errors import LogError

_SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab"}
_OPEN_NAME = re.compile(r'(?:^|[,;\t])"[^"]*$')
_NAME_LINES = 5
"""A header that quotes a name over more lines than this is taken to hold a stray quote."""
_UTF16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)

NOT_UTF8 = "the text is not UTF-8; read as Latin-1"


@dataclass(frozen=True)
class Header:
    """How to read a CSV log: `skip_lines` lines come before the first row; `columns` are unique and not blank."""

    encoding: str
    separator: str
    skip_lines: int
    columns: tuple[str, ...]
    notes: tuple[str, ...]


def read_header(head: bytes, *, log_file: str) -> Header:
    """Tell how a CSV log is written from its first bytes (up to about a megabyte).

    Remark lines that begin with # may come before the header; where only they name the columns, the last one does.

    Raises
    ------
    LogError
        The bytes are not text, have no separator, or no line names the columns.
    """
    encoding, text = _decoded(head, log_file)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    at = _header_line(lines)
    line, end = _whole_header(lines, at)
    line = line.lstrip("#") if line.startswith("#") else line
    separator = max(_SEPARATORS, key=line.count)
    cells = [cell.strip() for cell in _cells(line, separator)]
    if len(cells) < 2:
        needed = ", ".join(_SEPARATORS.values())
        raise LogError(f"{log_file}: not a table: its first line {_short(line)} has no {needed}; export it as CSV")
    if sum(map(_is_number, cells)) * 2 >= len(cells):
        raise LogError(f"{log_file}: no line names the columns: the first line is {_short(line)}; add a header line")
    if _rows_end_in_separator(lines[end:], len(cells), separator):
        cells.append("")
    columns, notes = _unique(cells)
    return Header(encoding, separator, end, columns, notes + (NOT_UTF8,) * (encoding == "latin-1"))


def _decoded(head: bytes, log_file: str) -> tuple[str, str]:
    if head.startswith(_UTF16):
        return "utf-16", codecs.getincrementaldecoder("utf-16")("replace").decode(head)
    if b"\0" in head:
        raise LogError(f"{log_file}: not a table: it holds bytes that are not text; export it as CSV or Parquet")
    try:
        return "utf-8", codecs.getincrementaldecoder("utf-8-sig")().decode(head)
    except UnicodeDecodeError:
        return "latin-1", head.decode("latin-1")


def _header_line(lines: list[str]) -> int:
    """Index of the line that names the columns: the first that is no remark, unless it already holds numbers."""
    first = next((i for i, line in enumerate(lines) if line.strip() and not line.startswith("#")), len(lines))
    remarks = [i for i in range(first) if lines[i].startswith("#")]
    if remarks and (first == len(lines) or any(_is_number(c) for s in _SEPARATORS for c in lines[first].split(s))):
        return remarks[-1]
    return min(first, len(lines) - 1)


def _whole_header(lines: list[str], at: int) -> tuple[str, int]:
    """The header that begins at a line, and the line after it: a quoted name may break over a few lines."""
    line = lines[at]
    for end in range(at + 1, min(at + _NAME_LINES, len(lines)) + 1):
        if line.count('"') % 2 == 0 or not _OPEN_NAME.search(line):
            return line, end
        line = " ".join(lines[at : end + 1])
    return lines[at], at + 1


def _cells(line: str, separator: str) -> list[str]:
    return next(csv.reader([line], delimiter=separator), [])


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def _rows_end_in_separator(lines: list[str], fields: int, separator: str) -> bool:
    row = next((line for line in lines if line.strip()), "")
    cells = _cells(row, separator)
    return len(cells) == fields + 1 and not cells[-1].strip()


def _unique(cells: list[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    taken: set[str] = set()
    columns, notes = [], []
    for i, cell in enumerate(cells, 1):
        name, n = cell or f"column_{i}", 2
        while name in taken or (name != cell and name in cells):
            name, n = f"{cell or f'column_{i}'}_{n}", n + 1
        if name != cell and cell:
            notes.append(f"a further column named {cell!r} is called {name!r}")
        taken.add(name)
        columns.append(name)
    return tuple(columns), tuple(notes)


def _short(line: str) -> str:
    return repr(line if len(line) <= 40 else line[:40] + "...")
