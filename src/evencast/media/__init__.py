"""Decoders of files about lights: bytes in, values out; nothing here opens a file.

Import from the modules themselves: `lm63`, `eulumdat`, `gdtf`, `distribution`.
"""
