"""Files in, canonical frames and recordings out: the only part of the pipeline that touches files."""
