"""The rate book, catalogue codes and templates that are shipped, read once for tests."""

import tomllib

from labour.firm.models import Firm
from labour.plan.reading import SHIPPED, read_templates
from labour.plan.services import load_templates
from labour.ratebook.reading import read_rate_book

TASKS = {task.code: task for task in read_rate_book()}
TEMPLATES = read_templates()
BY_SLUG = {template.slug: template for template in TEMPLATES}
ITEMS = {
    material["code"]
    for file in (SHIPPED.parent / "materials").glob("*.toml")
    for material in tomllib.loads(file.read_text()).get("material", [])
}


def load_shipped(firm: Firm) -> int:
    """Give a firm the shipped templates."""
    return load_templates(firm=firm, templates=TEMPLATES, items=ITEMS, tasks=TASKS)
