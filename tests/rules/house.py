"""A firm with one row of everything, each with a marker in its texts; browsers of its people; all rows."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.apps import apps
from django.test import Client as Browser
from django.utils import timezone

from labour.firm.models import ApiToken, Firm, Membership, Role, User, Worker
from labour.firm.queries import digest_of
from labour.plan.models import TemplateRow
from labour.ratebook.models import TaskRow
from quoting.catalogue.models import MaterialRow
from quoting.clients.models import Client, Site
from quoting.offer.models import Quote
from tests.makers import (
    AT,
    make_client,
    make_firm,
    make_material,
    make_member,
    make_prices,
    make_site,
    make_task,
    make_template,
    make_worker,
)
from tests.quote_makers import make_quote
from tests.rules.house_bill import Bills, make_bills
from tests.rules.house_closeout import Closings, make_closings
from tests.rules.house_job import Ground, Jobs, make_jobs
from tests.rules.house_learn import TaughtRows, make_taught
from tests.rules.house_past import PastRows, make_past

type Rows = dict[tuple[str, int], dict[str, Any]]


@dataclass(frozen=True)
class House:
    """The rows of one firm."""

    firm: Firm
    people: Mapping[Role, User]
    worker: Worker
    client: Client
    site: Site
    task: TaskRow
    material: MaterialRow
    template: TemplateRow
    quote: Quote
    token: ApiToken
    jobs: Jobs
    bills: Bills
    taught: TaughtRows
    past: PastRows
    closings: Closings

    @property
    def today(self) -> str:
        """Today's day, as forms take it."""
        return timezone.localdate().isoformat()

    @property
    def crew(self) -> Membership:
        """The crew member's place in the firm."""
        return Membership.objects.get(user=self.people[Role.CREW])


def make_house(marker: str) -> House:
    """A firm whose rows all carry the marker in their texts."""
    firm = make_firm(marker)
    people = {role: make_member(firm, role, f"{marker}-{role}@example.com".lower()) for role in Role}
    email = f"{marker}-client@example.com".lower()
    client = make_client(firm, f"{marker} client", email, phone=f"{marker} phone", address=f"{marker} street")
    site = make_site(firm, f"{marker} site", client=client)
    make_prices(firm)
    code = marker.rpartition("-")[2].lower()
    task = make_task(firm, f"{code}-task", f"{marker} task")
    worker = make_worker(firm, wage="31.17", name=f"{marker} worker")
    template = make_template(firm, f"{code}-template", f"{marker} template", task.code)
    ground = Ground(marker, people[Role.OWNER], site, task, template)
    return House(
        firm=firm,
        people=people,
        worker=worker,
        client=client,
        site=site,
        task=task,
        material=make_material(firm, f"{code}-material", f"{marker} material", "47.83"),
        template=template,
        quote=make_quote(site, task, f"{marker} quote", f"{marker}-1", f"{code}-template"),
        token=make_token(people[Role.OWNER], f"{marker} token"),
        jobs=make_jobs(ground),
        bills=make_bills(ground),
        taught=make_taught(task),
        past=make_past(task, marker),
        closings=make_closings(ground),
    )


def make_token(user: User, name: str = "key") -> ApiToken:
    """A key for programs; its secret is "key-of-" and the user's number."""
    member = Membership.objects.get(user=user)
    digest = digest_of(f"key-of-{user.pk}")
    return ApiToken.objects.create(
        firm=member.firm, membership=member, name=name, digest=digest, created_at=AT
    )


def browser_of(user: User) -> Browser:
    """A browser in which the user is logged in, and whose requests carry the user's key."""
    if not ApiToken.objects.filter(membership__user=user).exists():
        make_token(user)
    browser = Browser(headers={"Authorization": f"Bearer key-of-{user.pk}"})
    browser.force_login(user)
    return browser


def all_rows() -> Rows:
    """Every row of both apps, by model and key; what only ties two rows together is a row too."""
    configs = [apps.get_app_config(app) for app in ("labour", "quoting")]
    models = [model for config in configs for model in config.get_models(include_auto_created=True)]
    return {
        (model.__name__, row["id"]): {name: _plain(value) for name, value in row.items()}
        for model in models
        for row in model._default_manager.values()
    }


def _plain(value: Any) -> Any:
    return bytes(value) if isinstance(value, memoryview) else value
