"""Answers and pages kept: worked out once, forgotten when there are too many."""

from __future__ import annotations

import threading

import pytest

from tubewise.web.remembered import Remembered, RememberedPages


def test_many_ask_and_one_works() -> None:
    kept = Remembered(10)
    calls = []
    ready = threading.Event()

    def work() -> int:
        calls.append(1)
        ready.wait(5)
        return 42

    answers: list[int] = []
    askers = [
        threading.Thread(target=lambda: answers.append(kept.get("key", work))) for _ in range(5)
    ]
    for asker in askers:
        asker.start()
    ready.set()
    for asker in askers:
        asker.join()
    assert answers == [42] * 5 and len(calls) == 1


def test_a_fault_is_not_kept() -> None:
    kept = Remembered(10)

    def fail() -> int:
        raise ValueError("once")

    with pytest.raises(ValueError, match="once"):
        kept.get("key", fail)
    assert kept.get("key", lambda: 3) == 3


def test_the_longest_unasked_goes_first() -> None:
    kept = Remembered(2)
    for key in ("a", "b"):
        kept.get(key, lambda: 1)
    kept.get("a", lambda: 2)
    kept.get("c", lambda: 1)
    assert kept.get("a", lambda: 9) == 1 and kept.get("b", lambda: 9) == 9


def test_pages_are_kept_up_to_a_size() -> None:
    pages = RememberedPages(100)
    pages.keep("a", b"x" * 60, 1)
    pages.keep("a", b"y" * 50, 2)
    assert pages.get("a") == (b"y" * 50, 2)
    pages.keep("b", b"z" * 60, 3)
    assert pages.get("a") is None and pages.get("b") is not None


def test_a_page_larger_than_all_the_room_is_not_kept_and_drives_nothing_out() -> None:
    pages = RememberedPages(100)
    pages.keep("a", b"x" * 60, 1)
    pages.keep("b", b"y" * 101, 2)
    assert pages.get("a") is not None and pages.get("b") is None
