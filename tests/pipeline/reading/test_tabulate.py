"""A log file becomes a raw table, or a sentence that says why not."""

import gzip
import hashlib
import random
import resource
from pathlib import Path

import polars as pl
import pyarrow as pa
import pytest

from pipeline.errors import LogError, StoreError
from pipeline.reading.tabulate import RawTable, content_sha256, tabulate

NOISE = random.Random(7).randbytes(9000)  # noqa: S311 - bytes that do not pack
PLAIN = b"t,p,q\n0,1.50,a\n1,,b\n2,3e0,\n"


def zstd(content: bytes) -> bytes:
    return bytes(pa.Codec("zstd").compress(content, asbytes=True))


def made(tmp_path: Path, content: bytes, name: str = "flight.csv") -> RawTable:
    source = tmp_path / name
    source.write_bytes(content)
    return tabulate(source, tmp_path / "out.parquet")


def rows(table: RawTable) -> list[tuple[object, ...]]:
    return pl.read_parquet(table.path, glob=False).rows()


def test_every_value_of_a_csv_is_kept_as_the_text_that_was_written(tmp_path: Path) -> None:
    """A CSV's values stay text, blanks become null, and nothing is said about a clean log."""
    table = made(tmp_path, PLAIN)

    assert rows(table) == [("0", "1.50", "a"), ("1", None, "b"), ("2", "3e0", None)]
    assert (table.columns, table.rows, table.notes) == (("t", "p", "q"), 3, ())


@pytest.mark.parametrize("pack", [gzip.compress, zstd, bytes], ids=["gzip", "zstd", "plain"])
def test_packed_and_plain_copies_are_one_log(tmp_path: Path, pack: object) -> None:
    """The hash is that of the unpacked bytes and the table the same, whatever the file is called."""
    source = tmp_path / "any name"
    source.write_bytes(pack(PLAIN))  # type: ignore[operator]

    assert hashlib.sha256(PLAIN).hexdigest() == content_sha256(source)
    assert tabulate(source, tmp_path / "out.parquet").rows == 3


@pytest.mark.parametrize("separator", [",", ";", "\t"], ids=["comma", "semicolon", "tab"])
def test_the_separator_is_found(tmp_path: Path, separator: str) -> None:
    """Comma, semicolon and tab are told from the header line."""
    assert made(tmp_path, PLAIN.replace(b",", separator.encode())).columns == ("t", "p", "q")


def test_lines_with_other_fields_than_the_header_are_left_out_and_counted(tmp_path: Path) -> None:
    """A line cut short could end in half a number, so it is dropped; so is one too long; blank lines are nothing."""
    table = made(tmp_path, b't,p,q\n0,1,2\n1,1\n\n2,1,2,3\n3,"1,5",2\n4,1,2\n5,1')

    assert [row[0] for row in rows(table)] == ["0", "3", "4"]
    assert table.notes == ("3 lines that do not have the 3 fields of the header left out",)


def test_a_separator_at_the_end_of_every_row_makes_a_column_of_its_own(tmp_path: Path) -> None:
    """Rows that all end in a separator the header lacks are no ragged rows."""
    table = made(tmp_path, b"t,p\n0,1,\n1,2,\n")

    assert (table.columns, table.rows, table.notes) == (("t", "p", "column_3"), 2, ())


def test_blank_and_repeated_column_names_are_told_apart(tmp_path: Path) -> None:
    """A second column of a name gets a number and is noted; a column without a name gets its place."""
    table = made(tmp_path, b"t, p ,,p,p_2\n0,1,2,3,4\n")

    assert table.columns == ("t", "p", "column_3", "p_3", "p_2")
    assert table.notes == ("a further column named 'p' is called 'p_3'",)


def test_a_name_may_break_over_lines_and_hold_any_mark(tmp_path: Path) -> None:
    """A quoted name of two lines is one name; a quote amid a name opens nothing."""
    table = made(tmp_path, b't,"height\n(ft)",5" disc\n0,1,2\n1,2,3\n')

    assert table.columns == ("t", "height (ft)", '5" disc')
    assert rows(table) == [("0", "1", "2"), ("1", "2", "3")]
    assert table.notes == ()


def test_only_line_ends_end_a_line(tmp_path: Path) -> None:
    """A control mark of an old encoding, here the ellipsis, is a letter of its line."""
    table = made(tmp_path, b"# kept\x85 by hand\nt,h\x85he\n0,1\n")

    assert table.columns == ("t", "h\x85he")
    assert rows(table) == [("0", "1")]


def test_remark_lines_before_the_header_are_passed_over(tmp_path: Path) -> None:
    """Lines that begin with # come before the header, or the last of them is the header."""
    assert made(tmp_path, b"# made by hand\n#s,deg\nt,p\n0,1\n").columns == ("t", "p")
    assert made(tmp_path, b"# made by hand\n# t,p\n0,1\n").columns == ("t", "p")


@pytest.mark.parametrize(
    ("content", "noted"),
    [
        ("t,Pitch °\n0,1\n".encode(), False),
        ("\ufefft,Pitch °\r\n0,1\r\n".encode(), False),
        ("t,Pitch °\n0,1\n".encode("utf-16"), False),
        ("t,Pitch °\n0,1\n".encode("latin-1"), True),
        ("t,Pitch °\n".encode() + b"0,1\n1,\xb0\n", True),
    ],
    ids=["utf-8", "byte order mark", "utf-16", "latin-1", "latin-1 below the header"],
)
def test_text_is_read_in_its_own_encoding(tmp_path: Path, content: bytes, *, noted: bool) -> None:
    """UTF-8 and UTF-16 are told by themselves; what is neither is read as Latin-1, and that is noted."""
    table = made(tmp_path, content)

    assert table.columns[0] == "t"
    assert [row[0] for row in rows(table)][:1] == ["0"]
    assert (("the text is not UTF-8; read as Latin-1",) if noted else ()) == table.notes


@pytest.mark.parametrize(
    "name", ['last week\'s "one" <b>.csv', "Füße 着陸 [1]*.csv", "..odd..name.csv", "a;drop table log--.csv"]
)
def test_any_file_name_will_do(tmp_path: Path, name: str) -> None:
    """Spaces, quotes, brackets, markup and letters of any script in a name mean nothing to the reader."""
    source = tmp_path / name
    source.write_bytes(PLAIN)

    (tmp_path / "below").mkdir()

    assert tabulate(tmp_path / "below" / ".." / name, tmp_path / f"{name}.parquet").rows == 3


def test_a_parquet_log_is_kept_byte_for_byte(tmp_path: Path) -> None:
    """A Parquet source keeps its own types, and its bytes."""
    source = tmp_path / "flight.parquet"
    pl.DataFrame({"t": [0.0, 1.0], "on": [True, False]}).write_parquet(source)
    table = tabulate(source, tmp_path / "out.parquet")

    assert source.read_bytes() == table.path.read_bytes()
    assert (table.columns, table.rows) == (("t", "on"), 2)


PARQUET = b"PAR1" + b"\0" * 40
REFUSED = {
    "empty": (b"", "the file is empty"),
    "only blank lines": (b"\n\n  \n", "the file is empty"),
    "empty once unpacked": (gzip.compress(b""), "the file is empty"),
    "a header alone": (b"t,p\n", "no rows"),
    "prose": (b"Dear all,\nthis is\nno table\n", "not a table"),
    "one column": (b"t\n1\n2\n", "has no comma, semicolon, tab"),
    "an image": (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "bytes that are not text"),
    "no header": (b"0,1,2\n1,2,3\n", "no line names the columns"),
    "broken Parquet": (PARQUET, "a Parquet file that cannot be read"),
    "truncated gzip": (gzip.compress(NOISE)[:-900], "ends too early"),
    "truncated Zstandard": (zstd(PLAIN * 400)[:-9], "ends too early"),
    "damaged gzip": (gzip.compress(PLAIN, mtime=0)[:-8] + b"\0" * 8, "damaged"),
}


@pytest.mark.parametrize(("content", "sentence"), REFUSED.values(), ids=REFUSED)
def test_what_is_no_log_is_refused_in_a_sentence(tmp_path: Path, content: bytes, sentence: str) -> None:
    """The sentence names the file and what is wrong; nothing is left behind."""
    with pytest.raises(LogError, match=sentence) as caught:
        made(tmp_path, content, "flight <7>.csv")

    assert str(caught.value).startswith("flight <7>.csv: ")
    assert [path.name for path in tmp_path.iterdir()] == ["flight <7>.csv"]


def test_a_hash_of_a_truncated_file_is_refused(tmp_path: Path) -> None:
    """A copy that was cut short has no hash: it is not that log."""
    source = tmp_path / "flight.csv.gz"
    source.write_bytes(gzip.compress(NOISE)[:-100])

    with pytest.raises(LogError, match=r"flight.csv.gz: the packed file ends too early"):
        content_sha256(source)


def test_a_missing_file_and_a_folder_are_said(tmp_path: Path) -> None:
    """A path that is no file is said as such."""
    with pytest.raises(LogError, match="there is no such file"):
        content_sha256(tmp_path / "none.csv")
    with pytest.raises(LogError, match="is a folder"):
        content_sha256(tmp_path)


def test_a_full_disk_loses_nothing(tmp_path: Path) -> None:
    """Where the disk takes no more, the old table stays and no half of the new one is left."""
    target = tmp_path / "out.parquet"
    made(tmp_path, PLAIN)
    before = target.read_bytes()
    source = tmp_path / "long.csv"
    source.write_bytes(b"t,p\n" + b"".join(b"%d,%d\n" % (i, i * 7919 % 100003) for i in range(20000)))
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (20000, hard))
    try:
        with pytest.raises(StoreError, match=r"the disk refused .* nothing was lost"):
            tabulate(source, target)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))

    assert before == target.read_bytes()
    assert not list(tmp_path.glob("*.partial"))
