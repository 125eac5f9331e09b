"""Changes of a plan's or a kit's text, each with a sentence of what was done; text in, text out.

Every other byte stays as the person wrote it. A change that would bring an error into the
document is refused, with every problem of it.
"""
