"""Statistics of many landings: frames of measured landings in, frames of outcomes, drift and styles out."""
