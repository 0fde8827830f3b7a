"""What stands where: trays, beds, varieties, seed in stock, and the next step of each batch."""
