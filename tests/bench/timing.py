"""Medians of repeated calls; candidates take turns, so that a busy moment hits all alike."""

import statistics
import time
from collections.abc import Callable


def median_seconds(calls: dict[str, Callable[[], object]], rounds: int) -> dict[str, float]:
    """Median wall seconds of each call; every call is warmed up once first."""
    for call in calls.values():
        call()
    seconds: dict[str, list[float]] = {name: [] for name in calls}
    for _ in range(rounds):
        for name, call in calls.items():
            start = time.perf_counter()
            call()
            seconds[name].append(time.perf_counter() - start)
    return {name: statistics.median(values) for name, values in seconds.items()}


def median_ms(call: Callable[[], object], rounds: int) -> float:
    """Median milliseconds of one call, to the hundredth."""
    return round(1000 * median_seconds({"call": call}, rounds)["call"], 2)
