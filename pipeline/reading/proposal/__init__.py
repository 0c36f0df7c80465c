"""A log whose columns no map knows in; a channel map a person can accept, with its evidence, out."""
