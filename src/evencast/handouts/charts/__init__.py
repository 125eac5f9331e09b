"""Charts in SVG, made from numbers: one style, for paper and for a screen."""
