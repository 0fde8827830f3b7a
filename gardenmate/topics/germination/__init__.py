"""Seed coming up."""
