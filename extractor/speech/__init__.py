"""Audio to Transcript: the words that were recognised, with their seconds and probabilities."""
