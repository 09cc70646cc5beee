"""The algebra of the shared house effect against a published mixed model.

Data: reaction times (ms) of 18 people over days 0 to 9 of little sleep, Belenky and others 2003, as published
with the R package lme4 (data set sleepstudy, 180 rows). Results of the random-intercept model by REML: seen
in test files of public repositories that quote lme4. A house of ours stands for a person, the firm effect for
the intercept, the size effect for the slope; every prior is made so wide that it says nothing.
"""

import math

import numpy as np
import pytest

from labour.engine.rates.fit import fit
from labour.engine.rates.posterior import Posterior
from labour.engine.rates.records import Records
from labour.engine.rates.values import Book, Priors, TaskBook

REACTION = """
    249.5600  258.7047  250.8006  321.4398  356.8519  414.6901  382.2038  290.1486  430.5853  466.3535
    222.7339  205.2658  202.9778  204.7070  207.7161  215.9618  213.6303  217.7272  224.2957  237.3142
    199.0539  194.3322  234.3200  232.8416  229.3074  220.4579  235.4208  255.7511  261.0125  247.5153
    321.5426  300.4002  283.8565  285.1330  285.7973  297.5855  280.2396  318.2613  305.3495  354.0487
    287.6079  285.0000  301.8206  320.1153  316.2773  293.3187  290.0750  334.8177  293.7469  371.5811
    234.8606  242.8118  272.9613  309.7688  317.4629  309.9976  454.1619  346.8311  330.3003  253.8644
    283.8424  289.5550  276.7693  299.8097  297.1710  338.1665  332.0265  348.8399  333.3600  362.0428
    265.4731  276.2012  243.3647  254.6723  279.0244  284.1912  305.5248  331.5229  335.7469  377.2990
    241.6083  273.9472  254.4907  270.8021  251.4519  254.6362  245.4523  235.3110  235.7541  237.2466
    312.3666  313.8058  291.6112  346.1222  365.7324  391.8385  404.2601  416.6923  455.8643  458.9167
    236.1032  230.3167  238.9256  254.9220  250.7103  269.7744  281.5648  308.1020  336.2806  351.6451
    256.2968  243.4543  256.2046  255.5271  268.9165  329.7247  379.4445  362.9184  394.4872  389.0527
    250.5265  300.0576  269.8939  280.5891  271.8274  304.6336  287.7466  266.5955  321.5418  347.5655
    221.6771  298.1939  326.8785  346.8555  348.7402  352.8287  354.4266  360.4326  375.6406  388.5417
    271.9235  268.4369  257.2424  277.6566  314.8222  317.2135  298.1353  348.1229  340.2800  366.5131
    225.2640  234.5235  238.9008  240.4730  267.5373  344.1937  281.1481  347.5855  365.1630  372.2288
    269.8804  272.4428  277.8989  281.7895  279.1705  284.5120  259.2658  304.6306  350.7807  369.4692
    269.4117  273.4740  297.5968  310.6316  287.1726  329.6076  334.4818  343.2199  369.1417  364.1236
"""
NOTHING = 1e-7
FLAT = Priors(
    firm=1e5, trade=NOTHING, size=1e5, task_size=NOTHING,
    scatter=(30.0, 1e3), house=(30.0, 1e3), stray=(NOTHING, 1e-3),
)  # fmt: skip


@pytest.fixture(scope="module")
def fitted() -> Posterior:
    table = np.array([[float(cell) for cell in row.split()] for row in REACTION.strip().splitlines()])
    people, days = table.shape
    records = Records(
        job=np.repeat(np.arange(people), days),
        task=np.zeros(people * days, dtype=int),
        log_ratio=table.ravel(),
        size=-np.tile(np.arange(days, dtype=float), people),
        conditions=np.zeros((people * days, 0), dtype=bool),
    )
    return fit(Book((TaskBook("reaction", "people"),)), records, FLAT)


def test_the_data_are_those_that_were_published() -> None:
    numbers = [float(cell) for cell in REACTION.split()]

    assert len(numbers) == 180
    assert math.isclose(sum(numbers), 53_731.4205, abs_tol=1e-3)


def test_intercept_and_slope_are_the_published_ones(fitted: Posterior) -> None:
    # 251.4051 and 10.4673 (REML, random intercept): seen
    mean = fitted.mode.normal.mean
    columns = fitted.columns

    assert math.isclose(mean[columns.firm], 251.4051, rel_tol=1e-5)
    assert math.isclose(mean[columns.size], 10.4673, rel_tol=1e-5)


def test_their_standard_errors_are_the_published_ones(fitted: Posterior) -> None:
    # 9.7467 and 0.8042: seen
    factor, columns = fitted.mode.normal.factor, fitted.columns
    covariance = np.linalg.inv(factor @ factor.T)

    assert math.isclose(math.sqrt(covariance[columns.firm, columns.firm]), 9.7467, rel_tol=1e-3)
    assert math.isclose(math.sqrt(covariance[columns.size, columns.size]), 0.8042, rel_tol=1e-3)


def test_variances_between_and_inside_people_are_the_published_ones(fitted: Posterior) -> None:
    # 1378.1785: seen; 960.457: computed with the library statsmodels, method bfgs
    inside, between, _ = np.exp(2 * fitted.mode.spreads)

    assert math.isclose(between, 1378.1785, rel_tol=1e-3)
    assert math.isclose(inside, 960.457, rel_tol=1e-3)
