"""Frames in, pages out: the only room that draws and writes HTML."""
