"""Tonight's cold and the frost dates."""
