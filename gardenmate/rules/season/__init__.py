"""The season engine: one function family on crop, method, date and place."""
