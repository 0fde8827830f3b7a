"""What is known of the garden."""
