"""What several topics say or look up alike."""
