"""One room a topic: what is decided, how it is worded, on which facts."""
