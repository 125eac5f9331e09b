"""Scripts that make the packaged tables from what has been published."""
