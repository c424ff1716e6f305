"""How the API answers: a route says what it asks for and gives, and what it refuses becomes a sentence with an id."""

from __future__ import annotations

import logging
import secrets
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from django.core.exceptions import RequestDataTooBig
from django.db import DataError, OperationalError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.http.response import HttpResponseBase
from pydantic import BaseModel, ValidationError

from tunwright.build.edit import NotEditable
from tunwright.build.problems import BuildProblems, Problem, key_path
from tunwright.desk.refusal import Refusal

log = logging.getLogger("tunwright.desk")
View = Callable[..., Any]
F = TypeVar("F", bound=View)
JSON = "application/json"
NO_DATABASE = "The database does not answer at the moment, so nothing was changed. Try again; the log says why."
"""Sentence for a request that met no database."""
_FORESEEN: dict[type[Exception], tuple[int, str]] = {
    RequestDataTooBig: (413, "The request is too large: at most 2.5 MB are taken, a build file has at most 1 MB."),
    DataError: (400, "The request holds what the database cannot keep, such as a zero byte in a text."),
    OperationalError: (503, NO_DATABASE),
}


@dataclass(frozen=True)
class Route:
    """One way to ask.

    method: GET, POST, PUT or DELETE
    path: address, with its variable parts in braces
    view: what answers; its docstring says what it does
    asks: model of the body, None where there is none
    query: model of what stands behind the question mark
    answers: model of the answer, or the media type of a file
    status: of a good answer
    """

    method: str
    path: str
    view: View
    asks: type[BaseModel] | None
    query: type[BaseModel] | None
    answers: type[BaseModel] | str
    status: int


@dataclass(frozen=True)
class Call:
    """One request.

    request: as Django has it
    owner: who asks
    body: the body, read by the model of the route
    query: what stands behind the question mark, read the same way
    """

    request: HttpRequest
    owner: str
    body: Any
    query: Any


ROUTES: list[Route] = []


def route(
    method: str,
    path: str,
    *,
    answers: type[BaseModel] | str,
    asks: type[BaseModel] | None = None,
    query: type[BaseModel] | None = None,
    status: int = 200,
) -> Callable[[F], F]:
    """Put a function up as a route of the API.

    method: GET, POST, PUT or DELETE
    path: address, with its variable parts in braces
    answers: model of the answer, or the media type of a file
    asks: model of the body
    query: model of what stands behind the question mark
    status: of a good answer
    """

    def put_up(view: F) -> F:
        ROUTES.append(Route(method, path, view, asks, query, answers, status))
        return view

    return put_up


def answer(routes: Sequence[Route]) -> Callable[..., HttpResponseBase]:
    """The Django view of one address.

    routes: its routes, one a method
    """
    by_method = {one.method: one for one in routes}

    def view(request: HttpRequest, **parts: Any) -> HttpResponseBase:
        one = by_method.get("GET" if request.method == "HEAD" else request.method)
        try:
            if one is None:
                raise Refusal(405, f"This address takes {' or '.join(by_method)}, not {request.method}.")
            given = one.view(_call(one, request), **parts)
        except Exception as error:  # noqa: BLE001  # every error gets an id and a sentence
            return refused(error)
        if isinstance(given, HttpResponseBase):
            return given
        return _json(given.model_dump(mode="json", by_alias=True), one.status)

    return view


def _json(data: Any, status: int) -> HttpResponse:
    return JsonResponse(data, status=status, json_dumps_params={"ensure_ascii": False, "allow_nan": False})


def _call(one: Route, request: HttpRequest) -> Call:
    body = None
    if one.asks is not None:
        if request.content_type != JSON:
            raise Refusal(415, f"This address takes {JSON}, not {request.content_type or 'a body without a type'}.")
        body = one.asks.model_validate_json(request.body)
    given = {key: request.GET[key] for key in request.GET}
    query = None if one.query is None else one.query.model_validate(given)
    return Call(request, request.owner, body, query)


def refused(error: Exception) -> HttpResponse:
    """An error as an answer; one nobody foresaw is logged with its trace, and shows no more than its id.

    error: what was raised
    """
    refusal, mark = as_refusal(error), secrets.token_hex(4)
    if refusal.status >= 500:
        log.error("%s: unforeseen", mark, exc_info=error)
    elif refusal.status != 409:
        log.info("%s: %s %s", mark, refusal.status, refusal.words)
    said = {"words": refusal.words, "problems": [vars(problem).copy() for problem in refusal.problems]}
    return _json({"error": said, "id": mark, **refusal.extra}, refusal.status)


def as_refusal(error: Exception) -> Refusal:
    """An error as a refusal with a sentence.

    error: what was raised
    """
    if isinstance(error, Refusal):
        return error
    if isinstance(error, BuildProblems):
        return Refusal(400, _counted(len(error.problems)), problems=error.problems)
    if isinstance(error, NotEditable):
        return Refusal(400, str(error), problems=(Problem(None, "", "", str(error), "", ""),))
    if isinstance(error, ValidationError):
        return Refusal(400, "The request cannot be read.", problems=[_problem(one) for one in error.errors()])
    for kind, (status, words) in _FORESEEN.items():
        if isinstance(error, kind):
            return Refusal(status, words)
    return Refusal(500, "Something went wrong here that nobody foresaw. The id stands in the log of the desk.")


def _counted(count: int) -> str:
    return f"The build file has {count} problem{'s' if count > 1 else ''}."


def _problem(error: Any) -> Problem:
    given = error.get("input")
    return Problem(None, key_path(error["loc"]), "" if given is None else str(given)[:60], f"{error['msg']}.", "", "")
