"""The learning bench: simulated firms, variations, calibration, speed, and two reference libraries."""

import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from tests.bench.learning.calibration import calibrate
from tests.bench.learning.reference import compare_with_mixedlm, compare_with_nuts
from tests.bench.learning.scoring import (
    LEVELS,
    SEEN,
    Score,
    Task,
    disaster_moves,
    in_two_processes,
    mean_and_error,
    score_firm,
)
from tests.bench.learning.speed import measure_speed
from tests.bench.learning.worlds import REALISTIC, VARIATIONS

METHODS = ("oracle", "model", "shrunk average", "plain average", "last job", "book", "full book")


@dataclass(frozen=True, slots=True)
class Extent:
    """How many firms each part takes, and which numbers of jobs."""

    firms: int = 300
    mixed_firms: int = 80
    variation_firms: int = 40
    disaster_firms: int = 100
    calibration_firms: int = 1000
    nuts_jobs: tuple[int, ...] = (3, 10, 30)
    variation_seen: tuple[int, ...] = (0, 3, 10, 30)
    mixed_seen: tuple[int, ...] = (3, 10, 30)


FULL = Extent()
QUICK = Extent(
    firms=40,
    mixed_firms=10,
    variation_firms=4,
    disaster_firms=20,
    calibration_firms=200,
    nuts_jobs=(3,),
    variation_seen=(0, 3, 10),
    mixed_seen=(3, 10),
)


def measure_learning(arguments: Sequence[str]) -> dict[str, Any]:
    """Every figure of the bench; errors and coverage in percent, times as their names say."""
    extent = QUICK if "--quick" in arguments else FULL
    start = time.perf_counter()

    def say(what: str) -> None:
        print(f"[{time.perf_counter() - start:6.1f} s] {what}", flush=True)

    say("Speed, on one core, before anything else runs ...")
    figures: dict[str, Any] = measure_speed()
    say("Against MixedLM at 10,000 records ...")
    figures |= compare_with_mixedlm()
    say(f"Against NUTS after {' and '.join(str(jobs) for jobs in extent.nuts_jobs)} jobs ...")
    figures |= compare_with_nuts(extent.nuts_jobs)
    say(f"{extent.firms} firms of the realistic world ...")
    figures |= _main_table(extent)
    say(f"Mixed days, {extent.mixed_firms} firms ...")
    figures["mixed"] = _mixed(extent)
    say("One job of twelve takes 2.5 times its hours ...")
    figures |= _disaster(extent)
    say(f"{len(VARIATIONS)} variations, {extent.variation_firms} firms each ...")
    figures["variations"] = _variations(extent)
    say(f"Calibration by simulation, {extent.calibration_firms} firms ...")
    figures |= calibrate(extent.calibration_firms)
    say("Done.")
    _print_rest(figures)
    return figures


def _main_table(extent: Extent) -> dict[str, Any]:
    scores = in_two_processes(score_firm, [Task(REALISTIC, seed) for seed in range(extent.firms)])
    _print_scores(scores, SEEN, METHODS)
    by_method = {
        "error_{}": "model",
        "error_{}_plain_average": "plain average",
        "error_{}_shrunk_average": "shrunk average",
        "error_{}_last_rate": "last job",
        "error_{}_book": "book",
        "error_{}_full_book": "full book",
        "oracle_{}": "oracle",
    }
    figures: dict[str, Any] = {
        key.format(kind): _by_seen(scores, SEEN, f"{method}/{{}}/error_{kind}")
        for key, method in by_method.items()
        for kind in ("job", "task")
    }
    for kind in ("job", "task"):
        figures[f"coverage_{kind}"] = _coverage(scores, SEEN, kind)
        figures[f"below_plain_average_percent_{kind}"] = {
            seen: round(100.0 * (1.0 - error / figures[f"error_{kind}_plain_average"][seen]), 1)
            for seen, error in figures[f"error_{kind}"].items()
        }
    figures["above_price_80"] = _by_seen(scores, SEEN, "model/{}/above_price_80")
    return figures


def _by_seen(scores: Sequence[Score], seen: Iterable[int], name: str) -> dict[str, float]:
    """The mean over firms by number of jobs."""
    return {str(jobs): round(mean_and_error(scores, name.format(jobs))[0], 2) for jobs in seen}


def _coverage(scores: Sequence[Score], seen: Iterable[int], kind: str) -> dict[str, dict[str, float]]:
    return {
        str(jobs): {
            str(round(level * 100)): round(
                mean_and_error(scores, f"model/{jobs}/cover_{kind}_{round(level * 100)}")[0], 2
            )
            for level in LEVELS
        }
        for jobs in seen
    }


def _mixed(extent: Extent) -> dict[str, Any]:
    """By share and jobs: errors and coverage; share 0 on the same firms beside it."""
    figures = {}
    for share in (0.0, 0.3, 0.6):
        tasks = [
            Task(REALISTIC, seed, extent.mixed_seen, share, others=False)
            for seed in range(extent.mixed_firms)
        ]
        scores = in_two_processes(score_firm, tasks)
        print(f"  {share:.0%} of the task rows logged together")
        _print_scores(scores, extent.mixed_seen, ("model",))
        figures[str(round(share * 100))] = _short(scores, extent.mixed_seen)
    return figures


def _short(scores: Sequence[Score], seen: tuple[int, ...]) -> dict[str, Any]:
    figures: dict[str, Any] = {f"coverage_{kind}": _coverage(scores, seen, kind) for kind in ("job", "task")}
    for kind in ("job", "task"):
        figures[f"error_{kind}"] = _by_seen(scores, seen, f"model/{{}}/error_{kind}")
        figures[f"error_{kind}_plain_average"] = _by_seen(scores, seen, f"plain average/{{}}/error_{kind}")
    return figures


def _disaster(extent: Extent) -> dict[str, Any]:
    moves = in_two_processes(disaster_moves, [Task(REALISTIC, seed) for seed in range(extent.disaster_firms)])
    median, mean = 100.0 * float(np.median(moves)), 100.0 * float(np.mean(moves))
    print(f"  the next quote moves by {median:.2f} % (median over firms), {mean:.2f} % (mean)")
    return {"disaster_moves_percent": round(median, 2), "disaster_moves_percent_mean": round(mean, 2)}


def _variations(extent: Extent) -> dict[str, Any]:
    figures, firms, seen = {}, extent.variation_firms, extent.variation_seen
    names = list(VARIATIONS)
    tasks = [Task(VARIATIONS[name], seed, seen, others=False) for name in names for seed in range(firms)]
    scores = in_two_processes(score_firm, tasks)
    for number, name in enumerate(names):
        own = scores[number * firms : (number + 1) * firms]
        print(f"  {name}")
        _print_scores(own, seen, ("model", "plain average"))
        figures[name] = _short(own, seen)
    return figures


def _print_scores(scores: Sequence[Score], seen: Iterable[int], methods: Iterable[str]) -> None:
    """Errors of tasks and job totals, coverage of 50/80/95 % ranges, standard error of the 80 % job one."""
    print(f"  {'jobs':>4} {'method':<15} {'task':>5} {'job':>5}  {'task 50/80/95 %':<16} job 50/80/95 %")
    for jobs in seen:
        for method in methods:
            if f"{method}/{jobs}/error_job" not in scores[0]:
                continue
            errors = [mean_and_error(scores, f"{method}/{jobs}/error_{kind}")[0] for kind in ("task", "job")]
            line = f"  {jobs:>4} {method:<15} {errors[0]:5.1f} {errors[1]:5.1f}"
            if f"{method}/{jobs}/cover_job_80" in scores[0]:
                names = [f"{method}/{jobs}/cover_{kind}_" for kind in ("task", "job")]
                cells = [
                    "/".join(
                        f"{mean_and_error(scores, f'{name}{round(level * 100)}')[0]:.1f}" for level in LEVELS
                    )
                    for name in names
                ]
                line += f"  {cells[0]:<16} {cells[1]} ± {mean_and_error(scores, f'{names[1]}80')[1]:.1f}"
            print(line, flush=True)


def _print_rest(figures: dict[str, Any]) -> None:
    for name, value in figures.items():
        if not isinstance(value, dict):
            print(f"  {name}: {value}")
    for name in (
        "below_plain_average_percent_task",
        "below_plain_average_percent_job",
        "above_price_80",
        "sbc_p",
    ):
        print(f"  {name}: {figures[name]}")
