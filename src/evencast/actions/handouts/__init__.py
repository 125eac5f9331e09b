"""The documents of a plan, one module each: `made(job)` returns its files as bytes."""
