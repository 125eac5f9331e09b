"""Pictures for teaching: few, large marks, legible on a phone and from the last row of a class."""
