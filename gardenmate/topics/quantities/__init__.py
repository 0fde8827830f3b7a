"""How many plants, how much seed and space."""
