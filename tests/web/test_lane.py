"""Somebody with many questions keeps one worker, and others find the next."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

from tubewise.web.lane import Lane


def test_each_visitor_is_served_one_at_a_time_in_the_order_they_came() -> None:
    lane: Lane[int] = Lane()
    for number, visitor in enumerate("aaabc"):
        lane.put(visitor, number)
    assert [lane.take() for _ in range(3)] == [("a", 0), ("b", 3), ("c", 4)]
    with ThreadPoolExecutor(1) as pool:
        next_one = pool.submit(lane.take)
        assert not next_one.done()
        lane.done("b")
        lane.done("a")
        assert next_one.result(20) == ("a", 1)


def test_work_that_is_nobodys_does_not_wait_for_nobody() -> None:
    lane: Lane[int] = Lane()
    lane.put("", 1)
    lane.put("", 2)
    assert [lane.take()[1] for _ in range(2)] == [1, 2]
