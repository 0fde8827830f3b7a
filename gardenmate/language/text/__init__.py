"""Text to tokens: spelling, words known, phrases."""
