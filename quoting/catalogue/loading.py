"""Filling a firm's catalogue from plain values: what is there already is left as the firm has it."""

from collections.abc import Mapping, Sequence

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm
from labour.ratebook.models import TaskRow
from quoting.catalogue.checks import problems_of, row_of
from quoting.catalogue.models import ConsumptionRow, MaterialRow
from quoting.engine.materials.rule_checks import check_rule, check_unit
from quoting.engine.materials.values import ConsumptionRule, Material


class CannotLoadCatalogue(Refusal):
    """Nothing was loaded; every problem is named."""


@transaction.atomic
def load_catalogue(
    *, firm: Firm, materials: Sequence[Material], rules: Sequence[ConsumptionRule]
) -> tuple[int, int]:
    """Add the materials and rules that the firm does not have; how many of each were added.

    The tasks that rules name must be in the rate book already. A rule is there already when the firm has
    one with the same task, material and condition. Raise `CannotLoadCatalogue`.
    """
    tasks = {task.code: task for task in TaskRow.objects.of(firm)}
    known = {row.code: row for row in MaterialRow.objects.of(firm)}
    new = [row_of(firm, material) for material in materials if material.code not in known]
    values = {code: row.to_engine() for code, row in known.items()} | {
        material.code: material for material in materials if material.code not in known
    }
    problems = [
        Problem(f"{row.code}, {wrong.field}", wrong.message) for row in new for wrong in problems_of(row)
    ]
    problems += [problem for rule in rules for problem in _rule_problems(rule, tasks, values)]
    if problems:
        raise CannotLoadCatalogue(*problems)
    MaterialRow.objects.bulk_create(new)
    rows = {row.code: row for row in MaterialRow.objects.of(firm)}
    return len(new), _load_rules(firm, rules, tasks, rows)


def _load_rules(
    firm: Firm,
    rules: Sequence[ConsumptionRule],
    tasks: Mapping[str, TaskRow],
    materials: Mapping[str, MaterialRow],
) -> int:
    kept = ConsumptionRow.objects.of(firm).values_list("task__code", "material__code", "when")
    known = set(kept)
    new = [rule for rule in rules if (rule.task_code, rule.material_code, rule.when) not in known]
    ConsumptionRow.objects.bulk_create(
        ConsumptionRow(
            firm=firm,
            task=tasks[rule.task_code],
            material=materials[rule.material_code],
            kind=rule.kind.value,
            values={name: str(value) for name, value in rule.values.items()},
            waste_percent=rule.waste,
            when=rule.when,
            source=rule.source,
        )
        for rule in new
    )
    return len(new)


def _rule_problems(
    rule: ConsumptionRule, tasks: Mapping[str, TaskRow], materials: Mapping[str, Material]
) -> list[Problem]:
    place = f"{rule.task_code} uses {rule.material_code}"
    problems = list(check_rule(rule))
    if rule.task_code not in tasks:
        problems.append(Problem(place, f"the rate book has no task “{rule.task_code}”; load it first"))
    if rule.material_code not in materials:
        problems.append(Problem(place, f"there is no material “{rule.material_code}”; check the code"))
    else:
        problems += check_unit(rule, materials[rule.material_code])
    source = ConsumptionRow._meta.get_field("source").max_length or 0
    if len(rule.source) > source:
        problems.append(Problem(place, f"the source has {len(rule.source)} characters; at most {source}"))
    return problems
