"""`python -m evencast` is the command `evencast`."""

from evencast.cli import main

if __name__ == "__main__":
    main(prog_name="evencast")
