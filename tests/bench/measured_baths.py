"""Random bathrooms as a rooms document: a seed and what is chosen come in; the room goes out.

Sizes are those of ordinary bathrooms, to a quarter of an inch; the shares of tubs, niches, windows, benches
and wainscots are starting guesses.
"""

from typing import Any

import numpy as np

type Room = dict[str, Any]


def draw_bath(seed: int, finishes: dict[str, str]) -> Room:
    """A tub or a shower across the end of a room, mostly with a niche; toilet and vanity along its sides."""
    luck = np.random.default_rng(seed)
    wide, long = _inches(luck, 57, 84), _inches(luck, 84, 132)
    deep, is_tub = _inches(luck, 30, 36), bool(luck.random() < 0.55)
    kind = "tub" if is_tub else "shower"
    bath: Room = {"kind": kind, "wall": "C", "width": _say(wide), "depth": _say(deep)}
    bath |= {"height": _say(_inches(luck, 14, 20))} if is_tub else _bench(luck, deep)
    zone = {"around": kind, "height": _say(_inches(luck, 72, 96))}
    choices: Room = dict(finishes)
    if luck.random() < 0.15 and finishes.get("wall_tile") != "none":
        choices["wainscot"] = _say(_inches(luck, 36, 48))
    return {
        "name": f"Bath {seed}",
        "outline": {"width": _say(wide), "length": _say(long)},
        "ceiling": "8'",
        "openings": [_door(luck, wide), *_window(luck)],
        "fixtures": [bath, *_others(luck, deep)],
        "niches": [_niche(luck)] if luck.random() < 0.7 else [],
        "wet_zones": [zone],
        "finishes": choices,
    }


def _bench(luck: np.random.Generator, deep: float) -> Room:
    """Four of ten showers have one at a side."""
    if luck.random() >= 0.4:
        return {}
    out, high = _inches(luck, 12, 16), _inches(luck, 17, 19)
    return {"bench": {"width": _say(deep), "depth": _say(out), "height": _say(high)}}


def _door(luck: np.random.Generator, wide: float) -> Room:
    offset = _inches(luck, 4, wide - 34)
    return {"kind": "door", "wall": "A", "width": '30"', "height": '80"', "offset": _say(offset)}


def _window(luck: np.random.Generator) -> list[Room]:
    if luck.random() >= 0.15:
        return []
    size = {"width": _say(_inches(luck, 18, 36)), "height": _say(_inches(luck, 12, 20))}
    return [{"kind": "window", "wall": "C", "sill": '50"'} | size]


def _niche(luck: np.random.Generator) -> Room:
    size = {"width": _say(_inches(luck, 12, 24)), "height": _say(_inches(luck, 12, 28))}
    return {"wall": "B", "depth": '3 1/2"'} | size


def _others(luck: np.random.Generator, deep: float) -> list[Room]:
    """A toilet at one side; at the other a vanity, clear of the tub or shower."""
    toilet = {"kind": "toilet", "wall": "B", "offset": _say(_inches(luck, 15, 20))}
    offset, wide = deep + _inches(luck, 1, 4), _inches(luck, 24, 36)
    vanity = {"kind": "vanity", "wall": "D", "offset": _say(offset), "width": _say(wide), "depth": '21"'}
    return [toilet, vanity]


def _inches(luck: np.random.Generator, low: float, high: float) -> float:
    return round(4 * luck.uniform(low, high)) / 4


def _say(inches: float) -> str:
    return f'{inches:g}"'
