"""What a text wants: topic, follow-ups, dangers, what bears on it."""
