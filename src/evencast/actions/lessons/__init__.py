"""Short lessons with pictures that are computed as one looks at them."""
