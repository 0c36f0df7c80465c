"""The warehouse: the only room that talks to DuckDB. Frames in, marts out as frames or files."""
