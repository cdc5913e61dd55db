"""What the pages for people say is there: links, pictures, commands, code that runs."""

from __future__ import annotations

import importlib
import re
import sys
from pathlib import Path
from types import ModuleType

import pytest
import typer

from tubewise.cli.main import app

ROOT = Path(__file__).parents[2]
PAGES = sorted(
    [
        *ROOT.glob("*.md"),
        *ROOT.glob("docs/*.md"),
        ROOT / "tubewise" / "demo" / "README.md",
    ]
)
README = (ROOT / "README.md").read_text(encoding="utf-8")
# Text in `code` and indented blocks may hold brackets that are no links.
LINK = re.compile(r"\]\(([^)\s]+)\)")
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def anchors(page: Path) -> set[str]:
    """The names under which a page's headings can be reached."""
    headings = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", h.lower()).strip().replace(" ", "-") for h in headings}


@pytest.fixture
def make_pictures(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """The script of the pictures, which imports its neighbours."""
    return importlib.import_module("tools.pictures.make_pictures")


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_relative_link_leads_somewhere(page: Path) -> None:
    for link in LINK.findall(page.read_text(encoding="utf-8")):
        if re.match(r"[a-z]+:", link):
            continue
        path, _, anchor = link.partition("#")
        target = page.parent / path if path else page
        assert target.exists(), link
        if anchor:
            assert anchor in anchors(target), link


def test_every_picture_is_used_and_said_in_words() -> None:
    text = "".join(page.read_text(encoding="utf-8") for page in PAGES)
    shown = re.findall(r"!\[([^\]]*)\]\(\S*pictures/(\S+?)\)", text)
    assert {file for _, file in shown} == {
        path.name for path in (ROOT / "docs" / "pictures").iterdir()
    }
    assert all(len(words) > 20 for words, _ in shown)


def test_pictures_are_small_and_fetch_nothing() -> None:
    for path in (ROOT / "docs" / "pictures").iterdir():
        assert path.stat().st_size < 150_000, path.name
        if path.suffix == ".svg":
            drawn = path.read_text(encoding="utf-8")
            assert "font-face" not in drawn
            assert set(re.findall(r"https?://[^\"'\s)]+", drawn)) == {"http://www.w3.org/2000/svg"}


def test_commands_and_options_named_in_the_readme_exist() -> None:
    commands = typer.main.get_command(app).commands  # type: ignore[attr-defined]
    named = set(re.findall(r"(?:`|^    )tubewise ([a-z]+)", README, re.MULTILINE))
    assert len(named) >= 10
    assert named <= set(commands)
    known = {"--json", "--help", "--install-completion"}
    known |= {o for c in commands.values() for p in c.params for o in p.opts}
    assert set(re.findall(r"`[^`\n]*?(--[a-z-]+)", README)) <= known


def test_the_readme_spells_out_the_command_of_each_terminal_picture(
    make_pictures: ModuleType,
) -> None:
    terminals = sys.modules["tools.pictures.terminal_pictures"]
    for name, (arguments, _) in terminals.TYPED.items():
        command, picture = f"    {terminals.typed(arguments)}\n", f"pictures/{name}.svg"
        assert command in README, name
        assert README.index(command) < README.index(picture)


def test_make_targets_named_in_the_pages_exist() -> None:
    made = set(re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text("utf-8"), re.MULTILINE))
    for page in PAGES:
        text = page.read_text(encoding="utf-8")
        assert set(re.findall(r"(?:`|^    )make ([a-z]+)", text, re.MULTILINE)) <= made, page.name


def test_the_readmes_python_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT / "tubewise" / "demo")
    blocks = re.findall(r"```python\n(.*?)```", README, re.DOTALL)
    assert blocks
    names: dict[str, object] = {}
    for block in blocks:
        exec(compile(block, "README.md", "exec"), names)
    assert names["reading"].pigments[0].code == "PR112"  # type: ignore[attr-defined]


def test_a_picture_made_again_is_the_same(make_pictures: ModuleType) -> None:
    file, contents = make_pictures.make("surface")
    kept = (ROOT / "docs" / "pictures" / file).read_text(encoding="utf-8")
    again = contents.decode()
    assert NUMBER.sub("0", again) == NUMBER.sub("0", kept)
    # Another machine's last digit may round the other way.
    assert [float(n) for n in NUMBER.findall(again)] == pytest.approx(
        [float(n) for n in NUMBER.findall(kept)], abs=0.11
    )


def test_a_terminal_picture_shows_what_the_command_prints(make_pictures: ModuleType) -> None:
    drawn = make_pictures.make("label")[1].decode()
    words = re.sub(r"<[^>]+>|&#160;", " ", drawn)
    assert "PR112" in words
    assert "Trust the code" in re.sub(r"\s+", " ", words)


def test_an_excerpt_says_that_something_was_left_out(make_pictures: ModuleType) -> None:
    excerpt = sys.modules["tools.pictures.terminal_pictures"].excerpt
    assert excerpt("a\nb\n\nc\nd", first="b", last="c") == "…\nb\n…"
    assert excerpt("a\nb", most=5) == "a\nb"
    with pytest.raises(RuntimeError, match="nothing printed"):
        excerpt("a\nb", first="z")


def test_an_unknown_picture_is_refused(
    make_pictures: ModuleType, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        make_pictures.main(["nonesuch"])
    assert "there are strips" in capsys.readouterr().err
