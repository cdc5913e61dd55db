"""Pictures of the command line, from what the commands really print.

Each command runs as a person would type it, in a terminal 96 columns wide that shows every
colour; what it printed is drawn by rich as SVG. No font is fetched: the reader's own monospaced
font is used.
"""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import sys
import tempfile
from html import escape
from pathlib import Path

from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

DEMO = Path(__file__).parents[2] / "tubewise" / "demo"
COLUMNS = 96

# Ink on the warm paper of the other pictures; the named colours are unused by the tool.
THEME = TerminalTheme(
    (247, 243, 234),
    (43, 38, 34),
    [
        *((43, 38, 34), (160, 40, 40), (60, 110, 50), (150, 110, 20)),
        *((50, 70, 140), (110, 60, 120), (40, 110, 120), (120, 112, 102)),
    ],
)

# rich's own frame without its traffic lights and without the font it would fetch.
FRAME = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img">
<title>COMMAND</title>
<style>
.{unique_id}-matrix {{ font-family: ui-monospace, Menlo, Consolas, "DejaVu Sans Mono", monospace;
  font-size: {char_height}px; line-height: {line_height}px; font-variant-east-asian: full-width; }}
{styles}
</style>
<defs><clipPath id="{unique_id}-clip-terminal">
<rect x="0" y="0" width="{terminal_width}" height="{terminal_height}"/></clipPath>
{lines}
</defs>
<rect width="{width}" height="{height}" rx="6" fill="#f7f3ea"/>
<g transform="translate({terminal_x}, 12)" clip-path="url(#{unique_id}-clip-terminal)">
{backgrounds}
<g class="{unique_id}-matrix">
{matrix}
</g>
</g>
</svg>
"""


# What a picture's command needs to have been run before it.
BEFORE = {"check-fewer": "palette"}


def run(*commands: list[str]) -> str:
    """What `tubewise` prints for the last of these commands, colours and all.

    All are run one after the other in a copy of the demo's folder. Raises RuntimeError when one
    fails; a check that found something (1) is no failure.
    """
    done = None
    with tempfile.TemporaryDirectory() as nowhere:
        here = shutil.copytree(DEMO, Path(nowhere) / "demo")
        environment = {
            **{k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR")},
            "TUBEWISE_DB": f"sqlite:///{nowhere}/store.db",
            "FORCE_COLOR": "1",
            "COLORTERM": "truecolor",
            "TERM": "xterm-256color",
            "COLUMNS": str(COLUMNS),
            "LINES": "40",
            "PYTHONIOENCODING": "utf-8",
        }
        for arguments in commands:
            done = subprocess.run(
                [sys.executable, "-c", "from tubewise.cli.main import main; main()", *arguments],
                cwd=here,
                env=environment,
                capture_output=True,
                text=True,
                encoding="utf-8",
            )
            if done.returncode not in (0, 1) or not done.stdout.strip():
                raise RuntimeError(f"tubewise {' '.join(arguments)}: {done.stderr.strip()}")
    assert done is not None, "a picture shows some command"
    return done.stdout


def excerpt(printed: str, first: str = "", last: str = "", most: int = 0) -> str:
    """The lines from the one that starts with `first` up to the one before `last`.

    `most` cuts to so many lines. What was left out is marked by a line of dots. Raises
    RuntimeError when `first` or `last` isn't there.
    """
    lines = printed.rstrip().split("\n")
    plain = [re.sub(r"\x1b\[[0-9;]*m", "", line).strip() for line in lines]

    def place(words: str, start: int) -> int:
        for i in range(start, len(plain)):
            if plain[i].startswith(words):
                return i
        raise RuntimeError(f"nothing printed starts with “{words}”")

    begin = place(first, 0) if first else 0
    end = place(last, begin + 1) if last else len(lines)
    if most:
        end = min(end, begin + most)
    before = ["…"] if begin > 0 else []
    after = ["…"] if end < len(lines) else []
    while end > begin and not plain[end - 1]:
        end -= 1
    return "\n".join([*before, *lines[begin:end], *after])


def terminal(command: str, printed: str, name: str) -> str:
    """The SVG of a command line and of what it printed."""
    to = Console(
        record=True,
        width=COLUMNS,
        file=io.StringIO(),
        force_terminal=True,
        color_system="truecolor",
        highlight=False,
        legacy_windows=False,
    )
    to.print(Text("$ " + command, style="bold"))
    to.print(Text.from_ansi(printed))
    drawn = to.export_svg(theme=THEME, code_format=FRAME, unique_id=f"tw-{name}")
    # rich leaves room for a title bar that this frame doesn't have.
    return _shorter(drawn, 28.0).replace("COMMAND", escape(f"Terminal: {command}"), 1)


def _shorter(svg: str, by: float) -> str:
    """The picture with `by` pixels off its foot."""

    def less(found: re.Match[str]) -> str:
        return f"{found[1]}{round(float(found[2]) - by, 1):g}{found[3]}"

    svg = re.sub(r'(viewBox="0 0 \S+ )(\S+)(")', less, svg, count=1)
    return re.sub(r'(<rect width="\S+" height=")(\S+)(" rx)', less, svg, count=1)


TYPED: dict[str, tuple[list[str], dict[str, str | int]]] = {
    "label": (
        ["label", "Pigment: PR 112 · CI 51319 · Series 3 · 60 ml", "--name", "Cadmium Red"],
        {},
    ),
    "mix": (["mix", "PV19/gamma=1", "PB29=1", "PW6=4"], {}),
    "compare": (["compare", "PV19/gamma", "PR108/medium", "--with", "PB29"], {}),
    "standin": (
        ["standin", "Spring Green", "--from", "catalogue.csv", "--most", "3"],
        {},
    ),
    # Two paints: a search that ends proved, and so shows the same on a slow machine.
    "recipe": (
        [
            "recipe",
            "munsell:5P 5/6",
            "--from",
            "catalogue.csv",
            "--medium",
            "acrylic",
            "--max-paints",
            "2",
        ],
        {"last": "2. "},
    ),
    "check": (
        ["check", "supply.csv", "--boxes", "boxes.csv", "--catalogue", "catalogue.csv"],
        {},
    ),
    "palette": (
        ["palette", "lesson", "supply.csv", "--from", "catalogue.csv", "--out", "fewer.csv"],
        {"most": 22},
    ),
    "check-fewer": (
        ["check", "fewer.csv", "--boxes", "boxes.csv", "--catalogue", "catalogue.csv"],
        {"most": 26},
    ),
    "names": (["names", "--catalogue", "catalogue.csv"], {"most": 18}),
}


def typed(arguments: list[str]) -> str:
    """The command as a person types it."""
    return "tubewise " + " ".join(f'"{a}"' if " " in a or not a.isascii() else a for a in arguments)


def draw(name: str) -> str:
    """The SVG of one of the pictures in `TYPED`."""
    arguments, cut = TYPED[name]
    before = [TYPED[BEFORE[name]][0]] if name in BEFORE else []
    printed = excerpt(
        run(*before, arguments),
        str(cut.get("first", "")),
        str(cut.get("last", "")),
        int(cut.get("most", 0)),
    )
    return terminal(typed(arguments), printed, name)
