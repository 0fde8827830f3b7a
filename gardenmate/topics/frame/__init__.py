"""Cold frames and unheated houses."""
