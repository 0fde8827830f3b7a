"""The log: entries, corrections, lists."""
