"""Feed every reader for so many seconds, one after the other.

    python -m tools.fuzz --seconds 600 csv xlsx

What a reader stumbles over is left in fuzz-out/READER; make it small, put it into tests/found under
the reader's name, and mend the reader: tests/tools/test_found.py reads it from then on.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
from pathlib import Path

from tools.fuzz.readers import READERS


def main() -> int:
    """0 where no reader stumbled, else 1."""
    words = argparse.ArgumentParser(prog="python -m tools.fuzz", description=__doc__)
    words.add_argument("--seconds", type=int, default=600, help="for each reader")
    words.add_argument("--out", type=Path, default=Path("fuzz-out"))
    words.add_argument("readers", nargs="*", help=", ".join(READERS))
    wanted = words.parse_args()
    if unknown := set(wanted.readers) - set(READERS):
        words.error(f"no such reader: {', '.join(sorted(unknown))}")
    stumbled = []
    for name in wanted.readers or READERS:
        print(f"{name}: {wanted.seconds} seconds", flush=True)
        place = wanted.out / name
        run = [sys.executable, "-m", "tools.fuzz.feeding", name, str(wanted.seconds), str(place)]
        if subprocess.run(run, check=False).returncode:
            stumbled.append(name)
            print(f"{name} stumbled; the input is in {place}", flush=True)
    print("stumbled: " + ", ".join(stumbled) if stumbled else "none stumbled")
    return 1 if stumbled else 0


if __name__ == "__main__":
    sys.exit(main())
