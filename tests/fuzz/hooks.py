"""Leads made-up requests further in: to ids that are there, and to bodies that are nearly right.

A random id is not found, and a random body seldom measures a depth in a unit of length; then only the
outermost checks of the service would be tried. Half of the requests are left as they were made.
"""

import hashlib
import itertools
import json
import os
import re
from pathlib import Path
from typing import Any
from uuid import UUID

import schemathesis

DOCUMENT = json.loads(Path(os.environ["FUZZ_DOCUMENT"]).read_text())
REAL: dict[str, str] = json.loads(os.environ["FUZZ_IDS"])
TOKENS: list[str] = json.loads(os.environ["FUZZ_TOKENS"])

# Ends the session of its caller.
SIGN_OUT = ("DELETE", "/v1/sessions/present")
IN_USE: set[str] = set()
# What is found by a text. One that was made up not to fit stays as it is.
TEXTS = {
    "system": re.compile("[a-z][a-z0-9-]{1,39}"),
    "their_id": re.compile(r"[^\x00-\x1f\x7f-\x9f]{1,200}"),
    "entry": re.compile(r".+"),
}
# In a walk, every request has a key of its own: the answer that an earlier walk was given names what it has deleted.
# Elsewhere keys are as they were made, the same one for many requests.
WALKED = itertools.count()
MADE_HERE = re.compile("[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}")
# Ids whose name is not that of their collection.
ODD = {"delivery_id": "deliveries", "run_id": "runs"}

if TOKENS:

    @schemathesis.auth()
    class Session:
        """Signed in; signing out is tried with other sessions, opened beforehand."""

        def get(self, case: Any, context: Any) -> str:
            del case, context
            return TOKENS.pop()

        def set(self, case: Any, data: str, context: Any) -> None:
            del context
            case.headers["Authorization"] = f"Bearer {data}"
            IN_USE.add(f"Bearer {data}")


@schemathesis.hook
def before_call(context: Any, case: Any, kwargs: Any) -> None:
    del context, kwargs
    signs_out = (case.method.upper(), case.path) == SIGN_OUT
    if signs_out and case.headers.get("Authorization") in IN_USE and TOKENS:
        case.headers["Authorization"] = f"Bearer {TOKENS.pop(0)}"
    if case.meta is None:
        return
    positive = case.meta.generation.mode.is_positive
    if positive and case.meta.phase.name == "stateful" and "Idempotency-Key" in case.headers:
        case.headers["Idempotency-Key"] = f"walk-{next(WALKED)}"
    chosen = digest(case)
    if chosen % 2:
        return
    first = case.path.split("/")[2] if case.path.startswith("/v1/") else ""
    for name, value in list((case.path_parameters or {}).items()):
        case.path_parameters[name] = real(name if name != "id" else first, value)
    for name, value in list((case.query or {}).items()):
        case.query[name] = real(name, value)
    if isinstance(case.body, dict):
        # A body of the coverage phase is there for the edge that it lies on.
        if positive and case.meta.phase.name != "coverage":
            case.body = near(case.body, example(case), chosen // 2)
        for name, value in list(case.body.items()):
            case.body[name] = real(name, value)


def digest(case: Any) -> int:
    """A number that the request itself gives, but for the ids that the service made, so that a run can be repeated."""
    parts = [case.method, case.path, case.path_parameters, case.query, case.body]
    text = MADE_HERE.sub("", json.dumps(parts, sort_keys=True, default=repr))
    return int.from_bytes(hashlib.sha256(text.encode()).digest()[:4])


def real(name: str, value: Any) -> Any:
    """The id of something that is there, in place of one that was made up."""
    if name in TEXTS:
        return REAL[name] if isinstance(value, str) and TEXTS[name].fullmatch(value) else value
    collection = ODD.get(name, name if name in REAL else name.removesuffix("_id").replace("_", "-") + "s")
    try:
        made_up = UUID(value).version != 7 or value.startswith("01964f1e-")
    except (ValueError, AttributeError, TypeError):
        return value
    return REAL.get(collection, value) if made_up else value


def example(case: Any) -> Any:
    """The example of the body in the document."""
    operation = DOCUMENT["paths"].get(case.path, {}).get(case.method.lower(), {})
    content = operation.get("requestBody", {}).get("content", {})
    schema = content.get("application/json", {}).get("schema", {})
    named = DOCUMENT["components"]["schemas"].get(schema.get("$ref", "").rsplit("/", 1)[-1], {})
    return named.get("examples", [None])[0]


def near(body: Any, example: Any, chosen: int) -> Any:
    """The example with one member as it was made up, or the made-up body in the units of the example."""
    if not isinstance(example, dict) or not example:
        return body
    if chosen % 2:
        return in_units(body, example)
    names = sorted(example.keys() | body.keys())
    name = names[chosen // 2 % len(names)]
    mixed = {**example, name: in_units(body.get(name), example.get(name))}
    return mixed if name in body else {**example}


def in_units(body: Any, example: Any) -> Any:
    if isinstance(body, dict) and isinstance(example, dict):
        mixed = {name: in_units(value, example.get(name)) for name, value in body.items()}
        if "unit" in mixed and "unit" in example:
            mixed["unit"] = example["unit"]
        return mixed
    if isinstance(body, list) and isinstance(example, list) and example:
        return [in_units(value, example[0]) for value in body]
    return body
