"""Buy plants or sow: what each way costs."""
