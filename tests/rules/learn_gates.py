"""Who may pass which address of the rates that a task has and had, and of learned rates."""

from tests.rules.gate import Gate, everyone, office, owner

_PRESS = {"press": "yes"}
_OLD = {"code": "task.code", "version_id": "taught.version.pk"}
_ONE = {"proposal_id": "taught.proposal.pk"}

LEARN_GATES: dict[str, Gate] = {
    "rate-put-back": office(_PRESS, **_OLD),
    "learned": office(),
    "learned-take": owner(_PRESS, **_ONE),
    "learned-leave": owner(_PRESS, **_ONE),
    "learned-take-all": owner(_PRESS),
    "learned-leave-all": owner(_PRESS),
    "learned-again": owner(_PRESS),
    "api:get_rate_versions": everyone(code="task.code"),
    "api:put_rate_back": office(_PRESS, **_OLD),
    "api:get_learned_rates": office(),
    "api:learn_rates_again": owner(_PRESS),
    "api:get_rate_proposals": office(),
    "api:take_rate_proposal": owner(_PRESS, **_ONE),
    "api:leave_rate_proposal": owner(_PRESS, **_ONE),
    "api:take_all_rate_proposals": owner(_PRESS),
    "api:leave_all_rate_proposals": owner(_PRESS),
}
