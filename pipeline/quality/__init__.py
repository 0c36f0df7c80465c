"""Whether a log can be believed: repairs of single channels, and checks of channels against each other."""
