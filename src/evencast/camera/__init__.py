"""The camera: what it sees, exposure, the ratio of key to fill, and flicker."""
