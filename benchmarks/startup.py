"""The whole process of a quick question, against `python -c "import numpy"`.

Run:   python -m benchmarks.startup
Bar:   2.0 times, for `light` and for `through`: median of the runs, taken in turns.

Byte-compiled files, as after an installation: the sources are compiled first, and
PYTHONDONTWRITEBYTECODE is taken out of the environment.
"""

from __future__ import annotations

import compileall
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

BAR = 2.0
RUNS = 25
SOURCES = Path(__file__).resolve().parent.parent / "src"
CALLS = {
    "import numpy": ["-c", "import numpy"],
    "light": ["-m", "evencast", "light", "FL2"],
    "through": ["-m", "evencast", "through", "tungsten", "full CTB"],
}


def environment() -> dict[str, str]:
    """This process's, with byte-compiled files and this tree's sources."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return kept | {"PYTHONPATH": str(SOURCES)}


def seconds(call: list[str], env: dict[str, str]) -> float:
    """Duration of one process. [s]"""
    start = time.perf_counter()
    subprocess.run([sys.executable, *call], env=env, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def main() -> int:
    """Measure in turns, print, and say whether the bar is met."""
    compileall.compile_dir(SOURCES, quiet=1)
    env = environment()
    durations: dict[str, list[float]] = {name: [] for name in CALLS}
    for call in CALLS.values():
        seconds(call, env)
    for _ in range(RUNS):
        for name, call in CALLS.items():
            durations[name].append(seconds(call, env))
    median = {name: statistics.median(each) for name, each in durations.items()}
    base = median.pop("import numpy")
    print(f"import numpy  {base * 1e3:6.1f} ms")
    for name, each in median.items():
        verdict = "met" if each / base <= BAR else "MISSED"
        print(f"{name:12}  {each * 1e3:6.1f} ms   {each / base:.2f} x, bar {BAR} x: {verdict}")
    return 0 if all(each / base <= BAR for each in median.values()) else 1


if __name__ == "__main__":
    sys.exit(main())
