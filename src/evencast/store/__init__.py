"""The user's files: the only place that reads or writes them."""
