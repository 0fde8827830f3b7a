"""When and how to prune."""
