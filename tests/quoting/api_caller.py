"""A program that calls the API with a key of someone in a firm."""

import json
from dataclasses import dataclass
from typing import Any

from django.test import Client as Browser

from labour.firm.models import Firm, Role, User
from labour.firm.people import make_token
from tests.makers import AT, make_member


@dataclass(frozen=True)
class Caller:
    """Sends JSON to addresses under /api. token: "" for a stranger."""

    token: str = ""

    def send(self, method: str, address: str, body: Any = None, **more: Any) -> Any:
        """The answer; a body is sent as JSON, and text as it is."""
        headers = {"Authorization": f"Bearer {self.token}"} if self.token else {}
        text = body if isinstance(body, str | bytes) else json.dumps(body)
        sent = {} if body is None else {"data": text, "content_type": "application/json"}
        return getattr(Browser(headers=headers), method)(f"/api{address}", **sent | more)

    def get(self, address: str) -> Any:
        """The JSON at an address."""
        answer = self.send("get", address)
        assert answer.status_code == 200, answer.content
        return answer.json()

    def do(self, method: str, address: str, body: Any = None) -> Any:
        """The JSON of a change that succeeds; None when nothing is answered."""
        answer = self.send(method, address, body)
        assert answer.status_code in (200, 201, 204), answer.content
        return answer.json() if answer.content else None

    def refused(self, method: str, address: str, body: Any = None) -> dict[str, Any]:
        """The Problem Details of a refusal."""
        return problem_of(self.send(method, address, body))


def problem_of(answer: Any) -> dict[str, Any]:
    """The Problem Details of an answer, whose status they repeat."""
    assert answer.headers["Content-Type"] == "application/problem+json", answer.content
    problem = answer.json()
    assert problem["status"] == answer.status_code
    return problem


def fields_of(problem: dict[str, Any]) -> list[str]:
    """The fields that a refusal names."""
    return [error["field"] for error in problem["errors"]]


def caller_of(user: User) -> Caller:
    """The program of someone who is in a firm already."""
    return Caller(make_token(membership=user.membership, name="Program", at=AT))


def make_caller(firm: Firm, role: Role = Role.OWNER) -> Caller:
    """The program of someone new in the firm."""
    return caller_of(make_member(firm, role, f"{role}-program-{firm.pk}@example.com"))
