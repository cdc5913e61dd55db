"""The command line is one language: the same words everywhere, an example in each command."""

from __future__ import annotations

import shlex
from collections import defaultdict

import click
import pytest

from tubewise.advice.counter.finding import PERMANENCES
from tubewise.advice.counter.hues import HUES
from tubewise.cli.examples import EXAMPLES, commands, with_examples
from tubewise.cli.main import app
from tubewise.colour.lights import LIGHTS

WHOLE = with_examples(app)
COMMANDS = dict(commands(WHOLE))


def help_of(name: str) -> str:
    command = COMMANDS[name]
    return command.get_help(click.Context(command, info_name=name))


def test_every_command_has_an_example() -> None:
    assert EXAMPLES.keys() == COMMANDS.keys()


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_help_ends_with_an_example_that_the_command_takes(name: str) -> None:
    text = help_of(name)
    assert text.rstrip().endswith(text[text.index("Example:") :].rstrip())
    assert "\\" not in text
    words = shlex.split(EXAMPLES[name])
    assert words[0] == "tubewise" and " ".join(words[1:]).startswith(name)
    rest = words[1 + len(name.split()) :]
    COMMANDS[name].make_context(name, rest)


def test_an_option_takes_the_same_kind_of_value_in_every_command() -> None:
    kinds: dict[str, set[tuple[str, bool]]] = defaultdict(set)
    for command in COMMANDS.values():
        for option in command.params:
            if isinstance(option, click.Option):
                for word in option.opts:
                    kinds[word].add((option.type.name, option.is_flag))
    # A file of colours for a palette, a purpose elsewhere; a whole store's stand-ins come from one.
    allowed = {"--for", "--from"}
    assert {word: k for word, k in kinds.items() if len(k) > 1 and word not in allowed} == {}


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_tubes_come_from_one_word_and_are_the_store_s_without_it(name: str) -> None:
    by_word = {
        word: option
        for option in COMMANDS[name].params
        if isinstance(option, click.Option)
        for word in option.opts
    }
    # These two are given their boxes outright.
    if "--catalogue" in by_word and name not in ("palette next", "palette versus"):
        assert "--from" in by_word
    if "--from" in by_word:
        assert not by_word["--from"].required


def test_choices_are_listed() -> None:
    for word in HUES:
        assert word in help_of("find")
    for word in PERMANENCES:
        assert word in help_of("find")
    for word in LIGHTS:
        assert word in help_of("mix")
    for name in ("recipe", "find", "compare"):
        assert "watercolour" in help_of(name)
