"""gardenmate: an offline text assistant for the planting window."""

__version__ = "0.1.0"
