"""The build-up of a price as a workbook of formulas, recalculated in Python: the yardstick for speed.

Comes in: cost lines and a price policy. Goes out: a workbook with the arithmetic of `build_price`, and a
call that recalculates it and gives the grand total.
"""

from collections.abc import Callable, Sequence
from decimal import Decimal
from pathlib import Path

import formulas
from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from quoting.engine.pricing.values import Category, CategoryRule, CostLine, Method, PricePolicy

TOTAL_CELL = "B3"


def build_workbook(lines: Sequence[CostLine], policy: PricePolicy, path: Path) -> None:
    """Write one row a line part, the rules, the taxes and the totals, as formulas over the direct costs."""
    book = Workbook()
    parts = book.active
    assert isinstance(parts, Worksheet)
    parts.title = "PARTS"
    parts.append(["line", "category", "direct", "tax", "overhead", "contingency", "price", "amount"])
    for line in lines:
        if not line.option:
            _add_line(parts, line)
    _add_rules(book.create_sheet("RULES"), policy)
    _add_taxes(book.create_sheet("TAXES"), policy, parts.max_row)
    _add_totals(book.create_sheet("TOTALS"), parts.max_row, len(policy.taxes))
    book.save(path)


def calculate_with_formulas(path: Path) -> Callable[[], Decimal]:
    """Compile the workbook once; the call given back recalculates it from the direct costs to the total."""
    model = formulas.ExcelModel().loads(str(path)).finish()
    sheet = f"'[{path.name}]"
    total = f"{sheet}TOTALS'!{TOTAL_CELL}"
    model.calculate()
    direct = [
        name for name in model.cells if name.startswith(f"{sheet}PARTS'!C") and not name.endswith("!C1")
    ]
    costs = [model.dsp.solution[name].value[0, 0] for name in direct]
    recalculate = model.compile(inputs=direct, outputs=[total])
    return lambda: Decimal(str(recalculate(*costs).value[0, 0])).quantize(Decimal("0.01"))


def _add_line(sheet: Worksheet, line: CostLine) -> None:
    first = sheet.max_row + 1
    for cost in line.costs:
        row = sheet.max_row + 1
        rule = 2 + list(Category).index(cost.category)
        tax, overhead = f"=C{row}*RULES!B{rule}", f"=(C{row}+D{row})*RULES!C{rule}"
        contingency = f"=(C{row}+D{row}+E{row})*RULES!D{rule}"
        price = _rounded(f"(C{row}+D{row}+E{row}+F{row})*RULES!E{rule}")
        sheet.append(
            [line.key, cost.category.value, float(cost.amount or 0), tax, overhead, contingency, price]
        )
    if line.costs:
        sheet.cell(sheet.max_row, 8, f"=SUM(G{first}:G{sheet.max_row})")


def _add_rules(sheet: Worksheet, policy: PricePolicy) -> None:
    sheet.append(["category", "purchase tax", "overhead", "contingency", "price ÷ cost"])
    for category in Category:
        rule = policy.rules.get(category, CategoryRule())
        shares = [float(share / 100) for share in (rule.purchase_tax, rule.overhead, rule.contingency)]
        by_margin = rule.method is Method.MARGIN
        factor = f"=1/(1-{rule.percent / 100:f})" if by_margin else f"=1+{rule.percent / 100:f}"
        sheet.append([category.value, *shares, factor])


def _add_taxes(sheet: Worksheet, policy: PricePolicy, last: int) -> None:
    sheet.append(["tax", "rate", "base", "amount"])
    for tax in policy.taxes:
        row = sheet.max_row + 1
        names, prices = f"PARTS!B2:B{last}", f"PARTS!G2:G{last}"
        sums = [f'SUMIF({names},"{category.value}",{prices})' for category in sorted(tax.categories)]
        base = "=" + "+".join(sums or ["0"])
        sheet.append([tax.name, float(tax.rate / 100), base, _rounded(f"C{row}*B{row}")])


def _rounded(formula: str) -> str:
    """Binary fractions keep the half cent 6452.765 as 6452.76499…; the inner rounding lifts it back."""
    return f"=ROUND(ROUND({formula},6),2)"


def _add_totals(sheet: Worksheet, last: int, taxes: int) -> None:
    sheet.append(["subtotal", f"=SUM(PARTS!H2:H{last})"])
    sheet.append(["taxes", f"=SUM(TAXES!D2:D{taxes + 1})" if taxes else 0])
    sheet.append(["total", "=B1+B2"])
