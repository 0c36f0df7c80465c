"""What one landing is judged by: from measures with their uncertainty to the probability of each fault."""
