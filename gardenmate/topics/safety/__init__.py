"""Dangers, and what is not answered."""
