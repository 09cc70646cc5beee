"""Low, likely and high against published worked examples of the three-point (PERT) estimate.

5, 8, 14 gives 8.5 and 1.5: seen on several public pages, and so is the chain of four expected times. The beta
form and its quantiles are recomputed.
"""

import math

import pytest

from labour.engine.three_point import BadThreePoint, ThreePoint

SEEN = ThreePoint(5, 8, 14)


def test_the_mean_and_the_rule_of_thumb_are_the_published_ones() -> None:
    assert (SEEN.mean, SEEN.sd_by_rule) == (8.5, 1.5)


def test_a_chain_of_expected_times_adds_up_to_17_83_with_1_69() -> None:
    # 3.17 + 8.5 + 4.17 + 2, sds 0.5, 1.5, 0.5, 0.33: seen; parts of our own that give them
    chain = [ThreePoint(2, 3, 5), SEEN, ThreePoint(3, 4, 6), ThreePoint(1, 2, 3)]

    assert [round(part.mean, 2) for part in chain] == [3.17, 8.5, 4.17, 2.0]
    assert round(sum(part.mean for part in chain), 2) == 17.83
    assert round(math.sqrt(sum(part.sd_by_rule**2 for part in chain)), 2) == 1.69


def test_the_beta_form_has_the_published_shapes_and_its_own_spread() -> None:
    alpha, beta = SEEN.shapes

    assert (round(alpha, 4), round(beta, 4)) == (2.3333, 3.6667)
    assert round(SEEN.sd, 4) == 1.6583


def test_quantiles_of_the_beta_form() -> None:
    assert round(SEEN.quantile(0.8), 4) == 9.9874
    assert round(SEEN.quantile(0.95), 4) == 11.4196
    assert round(SEEN.chance_within(10), 4) == 0.8019


@pytest.mark.parametrize("points", [(5, 4, 6), (5, 7, 6), (5, 5, 5)])
def test_points_out_of_order_are_refused(points: tuple[float, float, float]) -> None:
    with pytest.raises(BadThreePoint, match="must rise"):
        ThreePoint(*points)
