"""The bytes of a CSV log in, its rows as Parquet text columns out, block by block so that any size fits in memory."""

from typing import TYPE_CHECKING, BinaryIO

from pipeline.errors import LogError
from pipeline.reading.header import Header

if TYPE_CHECKING:
    from pyarrow.csv import InvalidRow

_BLOCK = 1 << 20
_ROW_GROUP = 1 << 16

DECIMAL_KEY = "decimal_mark"
"""Key in the Parquet file's metadata under which "," stands where the log's decimals may be written with a comma."""


def copy_rows(stream: BinaryIO, out: BinaryIO, *, header: Header, log_file: str) -> tuple[int, tuple[str, ...]]:
    """Write the rows of `stream` below its header to `out`; returns their number and notes.

    Raises
    ------
    UnicodeError
        The text is not in the header's encoding.
    LogError
        Most lines have another number of fields than the header, or the text cannot be read as CSV.
    """
    import pyarrow as pa  # noqa: PLC0415 - as in opening

    try:
        rows, dropped = _copied(stream, out, header)
    except pa.ArrowInvalid as error:
        if "UTF8" in str(error):
            raise UnicodeError(str(error)) from error
        raise LogError(f"{log_file}: not a table that can be read ({error}); export it again") from error
    fields = len(header.columns)
    if dropped > rows:
        raise LogError(
            f"{log_file}: not a table: {dropped} of {dropped + rows} lines do not have the {fields} fields of the"
            " header line; export it again"
        )
    return rows, (f"{dropped} lines that do not have the {fields} fields of the header left out",) * bool(dropped)


def _copied(stream: BinaryIO, out: BinaryIO, header: Header) -> tuple[int, int]:
    import pyarrow as pa  # noqa: PLC0415 - as in opening
    from pyarrow import csv, parquet  # noqa: PLC0415

    dropped: list[None] = []

    def leave_out(_: "InvalidRow") -> str:
        dropped.append(None)
        return "skip"

    schema = pa.schema([(column, pa.string()) for column in header.columns])
    if header.separator == ";":
        schema = schema.with_metadata({DECIMAL_KEY: ","})
    batches = csv.open_csv(
        stream,
        read_options=csv.ReadOptions(
            column_names=header.columns, skip_rows=header.skip_lines, encoding=header.encoding, block_size=_BLOCK
        ),
        parse_options=csv.ParseOptions(delimiter=header.separator, invalid_row_handler=leave_out),
        convert_options=csv.ConvertOptions(column_types=schema, null_values=[""], strings_can_be_null=True),
    )
    rows = 0
    plain = {"compression": "zstd", "compression_level": 1, "use_dictionary": False, "write_statistics": False}
    with parquet.ParquetWriter(out, schema, **plain) as writer:
        for batch in batches:
            rows += batch.num_rows
            writer.write_batch(batch.cast(schema), row_group_size=_ROW_GROUP)
    pa.default_memory_pool().release_unused()
    return rows, len(dropped)
