"""Pure computation: log, channels, landings, measures, statistics; frames and numbers in, frames and numbers out."""
