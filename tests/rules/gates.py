"""Who may pass which address. A new route needs one line here; a line without its route fails too."""

from typing import Any

from quoting.engine.pricing.values import Category
from tests.quote_makers import DEFINITION
from tests.rules.bill_gates import BILL_GATES
from tests.rules.closeout_gates import CLOSEOUT_GATES
from tests.rules.gate import Gate, everyone, office, owner, public
from tests.rules.job_gates import CHANGE_GATES, JOB_GATES, OFFER_GATES
from tests.rules.learn_gates import LEARN_GATES
from tests.rules.log_gates import LOG_GATES
from tests.rules.past_gates import PAST_GATES

# What real forms send. Each changes something when the firm's own owner sends it, which the walk checks.
_LETTERHEAD = {"name": "Taken over", "paper": "a4", "units": "us", "currency": "USD", "country": "US"}
_WORKER = {"name": "Taken over", "wage": "30", "burden_percent": "20"}
_TASK = {
    "name": "Taken over", "client_text": "Taken over", "rate": "1", "rate_low": "1", "rate_high": "1",
    "setup_hours": "0", "cure_hours": "0", "crew_min": "1", "crew_max": "1", "source": "starting guess",
}  # fmt: skip
_LINES = {
    "form-TOTAL_FORMS": "1", "form-INITIAL_FORMS": "0", "form-0-kind": "task",
    "form-0-code": "harbor-task", "form-0-quantity": "2", "form-0-ORDER": "1",
}  # fmt: skip
_CLIENT = {"name": "Taken over", "email": "", "phone": "", "address": ""}
_SITE = {"address": "Taken over", "year_built": "", "storeys_to_carry": "0", "notes": ""}
_MATERIAL = {
    "name": "Taken over", "category": "material", "content_unit": "each", "pack_name": "piece",
    "pack_size": "1", "price": "1.00", "priced_on": "2026-11-02",
}  # fmt: skip
_LEAVE_OUT = {"key": "Hall bath/harbor-task", "action": "leave-out"}
_ADDED = {"room": "Hall bath", "task": "harbor-task", "quantity": "1"}

# What programs send.
_KEY = {"key": "Hall bath/harbor-task"}
_CREW = {"crew_min": 1, "crew_max": 1}
_SITE_JSON = _SITE | {"year_built": None, "storeys_to_carry": 0}
_RULE = {"overhead": "0", "contingency": "0", "method": "markup", "percent": "1", "purchase_tax": "0"}
_PRICES: dict[str, Any] = {
    "rules": {category.value: _RULE for category in Category}, "taxes": [], "plumber_cost": None,
    "electrician_cost": None, "valid_days": 9, "spare_tiles": "5", "show_line_amounts": True,
    "terms": "Taken over", "milestones": [{"name": "Taken over", "percent": "100"}],
}  # fmt: skip
_ROOMS = {
    "rooms": {"format": "screedbook-rooms-1", "client": {"name": "Taken over"}, "rooms": [DEFINITION]},
    "template": "harbor-template", "title": "Taken over",
}  # fmt: skip

_LAID = {"room": "Hall bath", "surface": "floor", "do": "take", "wish": "centred"}
_DEPTHS = {"room": "Hall bath", "depths-1-0.x": "1'", "depths-1-0.y": "1'", "depths-1-0.depth": "1/4 in"}
_LAYOUT = {"pattern": "diagonal"}
_POINTS = {"depths": [{"x": "1'", "y": "1'", "depth": "1/4 in"}]}
_SURFACE = {"quote_id": "quote.pk", "room": "=Hall bath", "key": "=floor"}

_BOOK_GATES: dict[str, Gate] = {
    "account_login": public(),
    "account_logout": public(),
    "account_inactive": public(),
    "account_signup": public(),
    "account_email_verification_sent": public(),
    "account_reset_password": public(),
    "account_reset_password_done": public(),
    "account_reset_password_from_key": public(uidb36="=1", key="=set-password"),
    "account_reset_password_from_key_done": public(),
    "account_confirm_email": public(key="=none"),
    "account_confirm_login_code": public(),
    "account_reauthenticate": everyone(),
    "account_email": everyone(),
    "account_change_password": everyone(),
    "account_set_password": everyone(),
    "home": everyone(),
    "set-up": everyone(),
    "set-up-workers": owner(_WORKER),
    "set-up-finish": owner(),
    "firm": office(_LETTERHEAD),
    "workers": owner(_WORKER),
    "worker": owner(_WORKER, pk="worker.pk"),
    "worker-retire": owner(pk="worker.pk"),
    "people": owner({"email": "someone@example.com", "role": "crew"}),
    "member": owner({"role": "office"}, pk="crew.pk"),
    "member-remove": owner(pk="crew.pk"),
    "tokens": owner({"name": "key"}),
    "token-revoke": owner(pk="token.pk"),
    "rate-book": everyone(),
    "rate-add": office(_TASK | {"code": "taken-over", "phase": "tile", "unit": "each"}),
    "rate": everyone(_TASK, code="task.code"),
    "templates": everyone(),
    "template": everyone(slug="template.slug"),
    "template-edit": office(_LINES, slug="template.slug"),
    "template-copy": office({"new_name": "Taken over", "new_slug": "taken-over"}, slug="template.slug"),
    "clients": office(),
    "client-add": office(_CLIENT),
    "client": office(_CLIENT, pk="client.pk"),
    "site-add": office(_SITE, pk="client.pk"),
    "site": office(_SITE, pk="site.pk"),
    "materials": office(),
    "material-add": office(_MATERIAL | {"code": "taken-over"}),
    "material": office({"price": "1.00", "priced_on": "2026-11-02"}, code="material.code"),
    "material-edit": office(_MATERIAL, code="material.code"),
    "price-settings": office(),
    "price-example": owner(category="=labour"),
    "quotes": office(),
    "quote-new": office(),
    "quote-from-file": office(),
    "rooms-live": office(),
    "quote-edit": office(quote_id="quote.pk"),
    "quote": office(quote_id="quote.pk"),
    "rooms-measured": office(quote_id="quote.pk"),
    "buying-list": office(quote_id="quote.pk"),
    "line-why": office(quote_id="quote.pk", index="=0"),
    "quote-paper": office(quote_id="quote.pk"),
    "work-sheet": everyone(quote_id="quote.pk"),
    "setting-out": everyone(quote_id="quote.pk"),
    "setting-out-sheet": everyone(quote_id="quote.pk"),
    "setting-out-surface": office(_LAID, quote_id="quote.pk"),
    "setting-out-depths": office(_DEPTHS, quote_id="quote.pk"),
    "api:keep_layout": office(_LAYOUT, **_SURFACE),
    "api:drop_layout": office(**_SURFACE),
    "api:keep_depths": office(_POINTS, quote_id="quote.pk", room="=Hall bath"),
    "api:read_setting_out": everyone(quote_id="quote.pk"),
    "api:read_setting_out_sheet": everyone(quote_id="quote.pk"),
    "quote-send": office(quote_id="quote.pk"),
    "price-again": office(quote_id="quote.pk"),
    "change-line": office({"key": "Hall bath/harbor-task", "action": "leave-out"}, quote_id="quote.pk"),
    "add-work": office(_ADDED, quote_id="quote.pk"),
    "quote-discount": office({"percent": "10", "amount": "0"}, quote_id="quote.pk"),
    "quote-options": office(quote_id="quote.pk"),
    "api-docs": everyone(),
    "api:api-root": public(),
    "api:unknown": public(rest="=nothing"),
    "api:get_rooms_schema": public(),
    "api:get_description": everyone(),
    "api:read_overview": office(),
    "api:get_work_sheets": everyone(),
    "api:measure_rooms": everyone(),
    "api:price_rooms": office(),
    "api:get_quotes": office(),
    "api:make_quote": office(_ROOMS),
    "api:read_quote": office(quote_id="quote.pk"),
    "api:read_quote_rooms": office(quote_id="quote.pk"),
    "api:change_quote_rooms": office(_ROOMS, quote_id="quote.pk"),
    "api:read_buying_list": office(quote_id="quote.pk"),
    "api:read_work_sheet": everyone(quote_id="quote.pk"),
    "api:read_paper": office(quote_id="quote.pk"),
    "api:send_quote": office(quote_id="quote.pk"),
    "api:price_again": office(quote_id="quote.pk"),
    "api:set_quantity": office(_KEY | {"quantity": "2"}, quote_id="quote.pk"),
    "api:leave_out": office(_KEY, quote_id="quote.pk"),
    "api:put_back": office(quote_id="quote.pk"),
    "api:add_work": office(_ADDED, quote_id="quote.pk"),
    "api:set_discount": office({"percent": "10"}, quote_id="quote.pk"),
    "api:choose_options": office({"options": []}, quote_id="quote.pk"),
    "api:get_clients": office(),
    "api:add_client": office(_CLIENT),
    "api:read_client": office(client_id="client.pk"),
    "api:change_client": office(_CLIENT, client_id="client.pk"),
    "api:add_site": office(_SITE_JSON, client_id="client.pk"),
    "api:read_site": office(site_id="site.pk"),
    "api:change_site": office(_SITE_JSON, site_id="site.pk"),
    "api:get_rate_book": everyone(),
    "api:add_task": office(_TASK | _CREW | {"code": "taken-over", "phase": "tile", "unit": "each"}),
    "api:get_task": everyone(code="task.code"),
    "api:change_task": office({"name": "Taken over"}, code="task.code"),
    "api:get_rules_of_task": office(code="task.code"),
    "api:get_materials": office(),
    "api:add_material": office(_MATERIAL | {"code": "taken-over"}),
    "api:read_material": office(code="material.code"),
    "api:change_material": office(_MATERIAL, code="material.code"),
    "api:change_price": office({"price": "1.00", "priced_on": "2026-11-02"}, code="material.code"),
    "api:get_templates": everyone(),
    "api:get_template": everyone(slug="template.slug"),
    "api:copy_template": office({"new_name": "Taken over", "new_slug": "taken-over"}, slug="template.slug"),
    "api:change_lines": office(
        {"lines": [{"kind": "task", "code": "harbor-task", "quantity": "2"}]}, slug="template.slug"
    ),
    "api:get_vocabulary": everyone(),
    "api:get_prices": office(),
    "api:save_prices": owner(_PRICES),
    "api:try_rule": owner(),
    "api:get_firm": office(),
    "api:save_firm": office(_LETTERHEAD),
    "api:get_workers": owner(),
    "api:add_worker": owner(_WORKER),
    "api:get_worker": owner(worker_id="worker.pk"),
    "api:change_worker": owner(_WORKER, worker_id="worker.pk"),
    "api:retire_worker": owner(worker_id="worker.pk"),
    "api:get_people": owner(),
    "api:invite_person": owner({"email": "someone@example.com", "role": "crew"}),
    "api:change_role": owner({"role": "office"}, person_id="crew.pk"),
    "api:remove_person": owner(person_id="crew.pk"),
    "api:get_keys": owner(),
    "api:make_key": owner({"name": "key"}),
    "api:revoke_key": owner(key_id="token.pk"),
}

GATES: dict[str, Gate] = (
    _BOOK_GATES
    | OFFER_GATES
    | JOB_GATES
    | LOG_GATES
    | CHANGE_GATES
    | BILL_GATES
    | LEARN_GATES
    | PAST_GATES
    | CLOSEOUT_GATES
)
