"""An invented flying-training operator: its pilots, airfields, aircraft and logs, with the truth known."""
