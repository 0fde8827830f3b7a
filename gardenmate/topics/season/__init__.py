"""Too late, too early, when, ready when."""
