"""What stands where: batches folded from the journal, seed in stock, jobs settled."""
