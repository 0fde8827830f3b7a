"""The types that travel, and the small things all rooms share."""
