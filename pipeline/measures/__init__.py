"""What one landing is measured by: from aligned samples to numbers with their uncertainty and reasons."""
