"""The same normal model in numpyro, sampled by NUTS: a reference that knows nothing of our algebra."""

import os
import time
from dataclasses import dataclass

import numpy as np

from tests.bench.learning.simulator import TASKS, TRADE_COUNT, TRADE_OF, Floats, Rows
from tests.bench.learning.worlds import CONDITIONS, DRAWN_FROM

CHAINS, WARM_UP, KEPT = 2, 600, 1500


@dataclass(frozen=True)
class Sampled:
    """Draws × columns of theta, and of the three spreads (scatter, house, stray); seconds with compiling."""

    theta: Floats
    spreads: Floats
    seconds: float


def design(rows: Rows) -> Floats:
    """Rows × columns: firm, trades, tasks, size, size of each task, conditions, in the engine's order."""
    columns = 1 + TRADE_COUNT + TASKS + 1 + TASKS + len(CONDITIONS)
    matrix, all_rows = np.zeros((len(rows.task), columns)), np.arange(len(rows.task))
    tasks_at, size_at = 1 + TRADE_COUNT, 1 + TRADE_COUNT + TASKS
    matrix[:, 0] = 1.0
    matrix[all_rows, 1 + TRADE_OF[rows.task]] = 1.0
    matrix[all_rows, tasks_at + rows.task] = 1.0
    matrix[:, size_at] = -rows.size
    matrix[all_rows, size_at + 1 + rows.task] = -rows.size
    matrix[:, -len(CONDITIONS) :] = rows.conditions
    return matrix


def sample(rows: Rows, seed: int) -> Sampled:
    """Two chains side by side, in 64 bits. Every effect is sampled as a multiple of its sd."""
    os.environ["XLA_FLAGS"] = f"--xla_force_host_platform_device_count={CHAINS}"
    import jax
    import jax.numpy as jnp
    import numpyro
    from numpyro.distributions import Normal
    from numpyro.infer import MCMC, NUTS

    jax.config.update("jax_enable_x64", True)
    believed = DRAWN_FROM
    matrix, job = jnp.asarray(design(rows)), jnp.asarray(rows.job)
    observed = jnp.asarray(np.log(rows.hours / rows.book_hours))
    fixed = [
        np.full(1, believed.firm), np.full(TRADE_COUNT, believed.trade), np.zeros(TASKS),
        np.full(1, believed.size), np.full(TASKS, believed.task_size), [kind.sd for kind in CONDITIONS],
    ]  # fmt: skip
    fixed_sds = jnp.asarray(np.concatenate(fixed))
    is_task = jnp.asarray(np.concatenate([np.full(len(sds), part == 2) for part, sds in enumerate(fixed)]))

    def model() -> None:
        spreads = [
            median * jnp.exp(sd * numpyro.sample(name, Normal(0.0, 1.0)))
            for name, (median, sd) in zip(
                ("scatter", "house", "stray"), (believed.scatter, believed.house, believed.stray), strict=True
            )
        ]
        scatter, house, stray = spreads
        multiples = numpyro.sample("multiples", Normal(jnp.zeros(matrix.shape[1]), 1.0).to_event(1))
        houses = numpyro.sample("houses", Normal(jnp.zeros(rows.jobs), 1.0).to_event(1))
        theta = numpyro.deterministic("theta", multiples * jnp.where(is_task, stray, fixed_sds))
        numpyro.deterministic("spreads", jnp.stack(spreads))
        numpyro.sample("log ratio", Normal(matrix @ theta + house * houses[job], scatter), obs=observed)

    start = time.perf_counter()
    chains = MCMC(
        NUTS(model), num_warmup=WARM_UP, num_samples=KEPT, num_chains=CHAINS,
        chain_method="parallel", progress_bar=False,
    )  # fmt: skip
    chains.run(jax.random.PRNGKey(seed))
    drawn = {name: np.asarray(values) for name, values in chains.get_samples().items()}
    return Sampled(drawn["theta"], drawn["spreads"], time.perf_counter() - start)
