"""Photographs decoded in a process of their own, with an end to its time and its memory.

A decoder is a large program in C++ that reads what strangers send. Where it goes wrong, that
process ends and nothing else does. On Windows only the time is limited: it knows no such limits
for a process that is started plainly.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass

from evencast.errors import EvencastError
from evencast.media.frames import MOST_BYTES, WIDEST_PX, Frame, frame_of


@dataclass(frozen=True, slots=True)
class Limits:
    """Of the process.

    seconds : of waiting, and of its own computing
    bytes   : of address space
    """

    seconds: int = 30
    bytes: int = 2 * 1024**3


LIMITS = Limits()
"""50 million pixels are read in 0.45 GB of addresses, what the decoder loads counted."""

_CHILD = "from evencast.media.apart import main; main()"


def frame_apart(
    content: bytes, *, where: str, widest_px: int = WIDEST_PX, limits: Limits = LIMITS
) -> Frame:
    """As `frame_of`, in a process of its own.

    Raises  EvencastError as `frame_of`, and where it takes more time or memory than a photograph
            may
    """
    if len(content) > MOST_BYTES:
        return frame_of(content, where=where)  # says so, and reads none of it
    command = [sys.executable, "-c", _CHILD, str(widest_px), str(limits.seconds), str(limits.bytes)]
    alone = {"PYTHONPATH": os.pathsep.join(each for each in sys.path if each)}
    alone |= {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    try:
        done = subprocess.run(
            command,
            input=content,
            capture_output=True,
            timeout=limits.seconds,
            env=os.environ | alone,
            check=False,
        )
    except subprocess.TimeoutExpired:
        raise _beyond(where) from None
    head, _, jpeg = done.stdout.partition(b"\n")
    try:
        told = json.loads(head)
    except ValueError:
        raise _beyond(where) from None
    if "what" in told:
        raise EvencastError(told["what"], where=where, remedy=told["remedy"])
    return Frame(jpeg, told["width_px"], told["height_px"])


def main() -> None:
    """What the process does: a photograph in, a small one out, or why not."""
    widest_px, seconds, most_bytes = (int(each) for each in sys.argv[1:4])
    _limit(seconds, most_bytes)
    jpeg = b""
    try:
        frame = frame_of(sys.stdin.buffer.read(), where="frame", widest_px=widest_px)
        told: dict[str, object] = {"width_px": frame.width_px, "height_px": frame.height_px}
        jpeg = frame.jpeg
    except EvencastError as error:
        told = {"what": error.what, "remedy": error.remedy}
    sys.stdout.buffer.write(json.dumps(told).encode() + b"\n" + jpeg)
    sys.stdout.buffer.flush()


def _limit(seconds: int, most_bytes: int) -> None:
    if os.name == "nt":
        return
    import resource

    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    if sys.platform != "darwin":  # refuses it, from memory, unchecked
        resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))


def _beyond(where: str) -> EvencastError:
    return EvencastError(
        "takes more time or memory than a photograph may",
        where=where,
        remedy="Check that this is the right file; export it again, smaller, as PNG or JPEG.",
    )
