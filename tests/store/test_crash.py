"""A crash in the middle of a write: the store is as before or as after, never between."""

from __future__ import annotations

import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

CRASHES = 100

# One process holds the modules and forks a writer that is killed at a random moment; what the
# store holds is then read by the next writer's parent, which never keeps it open across a fork.
LOOP = textwrap.dedent(
    """
    import os, random, signal, sys, time
    from pathlib import Path
    from tubewise.store.store import Store
    from tubewise.tubes.tube import Tube

    path, crashes = Path(sys.argv[1]), int(sys.argv[2])
    rng = random.Random(5)
    tubes = [Tube(maker="Ostrel", name=f"Paint {n}", label="PB29 PW6") for n in range(150)]
    with Store(path) as store:
        store.import_catalogue(tubes[:1])
    before = after = 0
    known = 1
    wait = 0.2
    for round in range(crashes):
        price = float(round + 1)
        batch = [Tube(maker=t.maker, name=t.name, label=t.label, price=price) for t in tubes]
        child = os.fork()
        if child == 0:
            with Store(path) as store:
                store.import_catalogue(batch)
            os._exit(0)
        time.sleep(wait * rng.uniform(0.8, 1.2))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with Store(path) as store:
            held = store.catalogue()
        prices = {t.price for t in held}
        if len(held) == len(tubes) and prices == {price}:
            after += 1
            known = len(held)
            wait /= 1.15
        elif len(held) == known and len(prices) == 1 and price not in prices:
            before += 1
            wait *= 1.15
        else:
            print("between", len(held), prices)
            sys.exit(1)
    print(before, after)
    """
)


@pytest.mark.slow
def test_a_hundred_imports_killed_at_random_leave_the_store_before_or_after(
    tmp_path: Path,
) -> None:
    ran = subprocess.run(
        [sys.executable, "-c", LOOP, str(tmp_path / "store.sqlite3"), str(CRASHES)],
        capture_output=True,
        text=True,
        timeout=400,
        check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    before, after = map(int, ran.stdout.split())
    assert before + after == CRASHES
    # The wait grows until an import gets through and shrinks until it does not, so that the kills
    # crowd around the commit; both sides must have been hit, or nothing was tried.
    assert before > 0 and after > 0
