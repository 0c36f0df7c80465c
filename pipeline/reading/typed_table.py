"""A small CSV table written by people in, a typed frame out; every problem with its line, the first few in an error."""

import csv
import difflib
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path

import polars as pl

from pipeline.errors import ManifestError

_SHOWN = 5
Value = str | float | int | date | datetime
DType = type[pl.DataType] | pl.DataType


@dataclass(frozen=True)
class Field:
    """One column of a table: its type in the frame, how a cell is read, and whether it must be there and filled.

    `parse` gets a cell that is not blank and raises ValueError with what was needed.
    """

    dtype: DType
    parse: Callable[[str], Value]
    needed: bool = False


@dataclass
class Table:
    """A table as read.

    `frame`: one row a line, the named fields (all of them, null where blank) and `line`, the line of the file;
    `others`: the cells of each row under columns that are no fields; `problems`: what a person must mend, by line.
    """

    name: str
    frame: pl.DataFrame
    others: list[dict[str, str]]
    problems: list[tuple[int, str]] = field(default_factory=list)

    def refuse(self) -> None:
        """Raise what is wrong, if anything.

        Raises
        ------
        ManifestError
            Up to five problems in order of line, and how many more there are.
        """
        if not self.problems:
            return
        ordered = sorted(set(self.problems))
        shown = "; ".join(f"line {line}: {problem}" for line, problem in ordered[:_SHOWN])
        more = len(ordered) - _SHOWN
        raise ManifestError(f"{self.name}: {shown}" + (f"; and {more} more" if more > 0 else ""))


def read_table(path: Path, fields: Mapping[str, Field]) -> Table:
    """Read a CSV table with comma, semicolon or tab; decimals may be written with a comma in a semicolon table.

    Titles mean a field in any case, and with spaces or hyphens between its words.

    Raises
    ------
    ManifestError
        The file cannot be read, has no header, a column twice, or not a column that must be there. Problems of single
        rows are in the table returned.
    """
    content = _text(path)
    separator = max(",;\t", key=content.partition("\n")[0].count)
    reader = csv.reader(io.StringIO(content, newline=""), delimiter=separator)
    header = [_known(title.strip(), fields) for title in next(reader, [])]
    _check_header(path.name, header, fields)
    problems: list[tuple[int, str]] = []
    rows: list[tuple[int, dict[str, str]]] = []
    for row in reader:
        cells = [cell.strip() for cell in row]
        if any(cells[len(header) :]):
            problem = f"{len(cells)} cells under {len(header)} columns; quote cells that hold a separator"
            problems.append((reader.line_num, problem))
        if any(cells):
            rows.append((reader.line_num, dict(zip(header, cells, strict=False))))
    columns = [pl.Series("line", [line for line, _ in rows], dtype=pl.Int64)]
    for name, kind in fields.items():
        swap = separator == ";" and kind.dtype == pl.Float64
        values = [_value(cells.get(name, ""), (name, kind), line, problems, decimal_comma=swap) for line, cells in rows]
        columns.append(pl.Series(name, values, dtype=kind.dtype, strict=False))
    others = [{t: cell for t, cell in cells.items() if t not in fields and t and cell} for _, cells in rows]
    return Table(path.name, pl.DataFrame(columns), others, problems)


def repeated(frame: pl.DataFrame, keys: Sequence[str]) -> list[tuple[int, int]]:
    """Lines that repeat the keys of an earlier line, each with that line; nulls count as equal."""
    first = frame.select(*keys, "line").with_columns(pl.col("line").first().over(*keys).alias("first"))
    again = first.filter(pl.col("line") > pl.col("first"))
    return list(again.select("line", "first").iter_rows())


def _known(title: str, fields: Mapping[str, Field]) -> str:
    """The field that a title means, in any case, with spaces or hyphens between its words; else the title."""
    name = "_".join(title.replace("-", " ").casefold().split())
    return name if name in fields else title


def _value(
    cell: str, column: tuple[str, Field], line: int, problems: list[tuple[int, str]], *, decimal_comma: bool
) -> Value | None:
    name, kind = column
    if not cell:
        if kind.needed:
            problems.append((line, f"{name} is blank; fill it in"))
        return None
    try:
        return kind.parse(cell.replace(",", ".") if decimal_comma else cell)
    except ValueError as needed:
        problems.append((line, f"{name} = {cell!r} is not {needed}"))
        return None


def _text(path: Path) -> str:
    try:
        content = path.read_bytes()
    except OSError as error:
        raise ManifestError(f"{path.name}: cannot be read from {path} ({error.strerror}); check the path") from error
    if b"\0" in content and not content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise ManifestError(f"{path.name}: not a CSV table: it holds bytes that are not text; save it as CSV")
    for encoding in ("utf-16",) if content.startswith((b"\xff\xfe", b"\xfe\xff")) else ("utf-8-sig", "latin-1"):
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise ManifestError(f"{path.name}: is cut short; save it as CSV again")


def _check_header(name: str, header: list[str], fields: Mapping[str, Field]) -> None:
    if not any(header):
        needed = ", ".join(title for title, kind in fields.items() if kind.needed)
        raise ManifestError(f"{name}: has no header; its first line must name the columns, among them {needed}")
    twice = [title for title in header if title and header.count(title) > 1]
    if twice:
        raise ManifestError(f"{name}: line 1: column {twice[0]} is there twice; keep one")
    missing = [title for title, kind in fields.items() if kind.needed and title not in header]
    if missing:
        raise ManifestError(f"{name}: line 1: column {missing[0]} is missing; the columns are {', '.join(header)}")


def note_misspelt(table: Table, fields: Iterable[str]) -> None:
    """Note a column that is nearly, but not quite, one that the table lacks: its values would go unread."""
    unfilled = [name for name in fields if table.frame[name].is_null().all()]
    for title in dict.fromkeys(title for others in table.others for title in others):
        near = difflib.get_close_matches(title, unfilled, n=1, cutoff=0.8)
        if near:
            table.problems.append((1, f"column {title!r} is not known; did you mean {near[0]}?"))
