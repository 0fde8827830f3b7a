"""The answer before, explained; words of the trade."""
