"""The camera: exposure, the ratio of key to fill, and flicker."""
