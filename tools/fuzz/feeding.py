"""Feed one reader for a while: guided by what it covers where atheris is there, else blindly.

python -m tools.fuzz.feeding READER SECONDS FOLDER
"""

from __future__ import annotations

import contextlib
import random
import sys
import time
import traceback
from collections.abc import Callable
from pathlib import Path

# One input may take so much of the processor; atheris, whose looking on slows all down, more.
MOST_SECONDS = 5.0
MOST_MB = 4096


def main() -> None:
    """Feed the reader; what it stumbles over is left in the folder, and the status is 1."""
    name, seconds, folder = sys.argv[1], int(sys.argv[2]), Path(sys.argv[3])
    folder.mkdir(parents=True, exist_ok=True)
    try:
        import atheris
    except ImportError:
        from tools.fuzz.readers import READERS, read_here

        read_here()
        blindly(READERS[name].read, READERS[name].seeds(), seconds, folder)
        return
    with atheris.instrument_imports(include=["tubewise", "openpyxl"]):
        from tools.fuzz.readers import MOST_BYTES, READERS, read_here
    read_here()
    seeds = folder / "seeds"
    seeds.mkdir(exist_ok=True)
    for number, seed in enumerate(READERS[name].seeds()):
        (seeds / f"seed-{number}").write_bytes(seed)
    reader = READERS[name]
    options = [
        f"-max_total_time={seconds}",
        f"-artifact_prefix={folder}/",
        f"-max_len={max(MOST_BYTES, *(len(seed) for seed in reader.seeds()))}",
        f"-timeout={4 * MOST_SECONDS:.0f}",
        f"-rss_limit_mb={MOST_MB}",
        "-verbosity=0",
        "-print_final_stats=1",
    ]
    atheris.Setup([sys.argv[0], *options, str(seeds)], lambda data: taken(reader.read, data))
    atheris.Fuzz()


def taken(read: Callable[[bytes], object], data: bytes) -> None:
    """Read bytes, or refuse them as a person is refused; anything else is raised."""
    from tubewise.errors import UserError

    with contextlib.suppress(UserError):
        read(data)


def blindly(
    read: Callable[[bytes], object], seeds: list[bytes], seconds: float, folder: Path
) -> None:
    """Feed seeds that are changed at random."""
    chance = random.Random()
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        data = changed(chance.choice(seeds), chance)
        start = time.process_time()
        try:
            taken(read, data)
            if time.process_time() - start > MOST_SECONDS:
                raise TimeoutError(f"took {time.process_time() - start:.0f} seconds")
        except Exception:
            (folder / "crash-blind").write_bytes(data)
            traceback.print_exc()
            sys.exit(1)


def changed(seed: bytes, chance: random.Random) -> bytes:
    """A seed with a few changes: bytes put in, taken out, turned, or repeated many times."""
    data = bytearray(seed)
    for _ in range(chance.randint(1, 8)):
        at = chance.randint(0, len(data))
        end = min(len(data), at + chance.randint(0, 40))
        match chance.randint(0, 4):
            case 0:
                data[at:end] = chance.randbytes(chance.randint(0, 6))
            case 1:
                del data[at:end]
            case 2:
                data[at:at] = data[at:end] * chance.randint(1, 50)
            case 3:
                data[at:at] = chance.choice([b"9" * 400, b" " * 4000, b"1e999", b"NaN", b"-", b"'"])
            case _:
                data[at:at] = chance.choice([b'"', b";", b"\n", b"\x00", b"\xff\xfe", b"<", b"&a;"])
    return bytes(data)


if __name__ == "__main__":
    main()
