"""A conversation: turns, memory, effects."""
