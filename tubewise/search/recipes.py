"""The search: a quick good answer, then the proof, then a short list that differs in kind."""

from __future__ import annotations

import time

from tubewise.search.beam import feasible_sizes
from tubewise.search.compiled import ready
from tubewise.search.first_answers import first_answers
from tubewise.search.listing import (
    SAME,
    as_proportions,
    best_of,
    short_list,
)
from tubewise.search.prepared import Prepared, prepare
from tubewise.search.problem import SearchProblem, SearchResult
from tubewise.search.proof import LARGEST_PROVED, prove
from tubewise.search.subsets import how_many

# However loosely a search is asked to prove, a gap above this is never called proved.
PROOF = 0.01


def search(ask: SearchProblem) -> SearchResult:
    """The best recipe for a target from a box of paints, with the proof as far as it goes.

    ValueError for arrays of the wrong shape or wishes that exclude each other. See
    `SearchProblem` for units and ranges and docs/recipe-search.md for the method.
    """
    ready()
    started = time.perf_counter()
    problem = prepare(ask)
    solutions = first_answers(problem)
    if not solutions:
        raise ValueError("the wishes leave no recipe at all")
    least = min(c.cost for c in solutions)
    lower = least_penalty(problem)
    evaluated = 0
    provable = ask.prove and feasible_sizes(problem)[-1] <= LARGEST_PROVED
    if provable and least - lower > ask.tolerance:
        proof = prove(problem, least, lower, started + ask.seconds)
        solutions += proof.found
        lower, evaluated = proof.lower_bound, proof.evaluated
    best = best_of(solutions)
    gap = max(best.cost - lower, 0.0)
    return SearchResult(
        best=as_proportions(problem, best, "best"),
        alternatives=tuple(
            as_proportions(problem, solution, kind)
            for solution, kind in short_list(problem, solutions, best)[1:]
        ),
        subsets=count_subsets(problem),
        evaluated=evaluated,
        proved_best=gap <= min(ask.tolerance, PROOF) + SAME,
        lower_bound=lower,
        gap=gap,
        seconds=time.perf_counter() - started,
    )


def count_subsets(problem: Prepared) -> int:
    """How many sets of paints the wishes allow."""
    return sum(how_many(problem.family, problem.must, k) for k in feasible_sizes(problem))


def least_penalty(problem: Prepared) -> float:
    """No recipe costs less than its required paints, or the least penalised one, do."""
    if problem.must:
        required = float(problem.penalty[list(problem.must)].sum())
        return required + problem.ask.per_paint * (len(problem.must) - 1)
    return float(problem.penalty.min())
