"""Frames in, chart specifications out."""
