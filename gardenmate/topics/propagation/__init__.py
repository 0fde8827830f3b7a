"""More plants from those at hand."""
