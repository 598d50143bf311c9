"""What a generated client can't bear and the checker from PyPI lets pass.

Both documents are walked side by side, from every operation of the old one. Of an answer: words and
forms that are new, another format. Of what is sent: members, words' defaults and parameters that are
gone or mean something else, since this service refuses what it does not know. Of an operation: its id,
which names the function of a client, and the permission it asks for.
"""

from collections.abc import Iterator
from typing import Any

Json = dict[str, Any]
METHODS = ("get", "post", "put", "patch", "delete")


def breaks(old: Json, new: Json) -> list[str]:
    """All that is broken, a line each."""
    return sorted(set(Walk(old, new).operations()))


class Walk:
    def __init__(self, old: Json, new: Json) -> None:
        self.old, self.new = old, new
        self.seen: set[tuple[str, str, bool]] = set()

    def operations(self) -> Iterator[str]:
        for path, item in self.old["paths"].items():
            for method in METHODS:
                before = item.get(method)
                after = self.new["paths"].get(path, {}).get(method)
                if before and after:
                    yield from self.operation(f"{method.upper()} {path}", before, after)

    def operation(self, at: str, old: Json, new: Json) -> Iterator[str]:
        for member in ("operationId", "security"):
            if old.get(member) != new.get(member):
                yield f"{at}: {member} was {old.get(member)}, is {new.get(member)}"
        parameters = {(p["in"], p["name"]): p for p in new.get("parameters", [])}
        for parameter in old.get("parameters", []):
            where = f"{at} {parameter['in']} {parameter['name']}"
            after = parameters.get((parameter["in"], parameter["name"]))
            if after is None:
                yield f"{where}: is not taken any more"
            else:
                yield from self.schema(where, parameter["schema"], after["schema"], answered=False)
        yield from self.content(f"{at} body", old.get("requestBody"), new.get("requestBody"), False)
        for status, response in old["responses"].items():
            yield from self.content(f"{at} {status}", response, new["responses"].get(status), True)

    def content(self, at: str, old: Json | None, new: Json | None, answered: bool) -> Iterator[str]:
        for kind, before in ((old or {}).get("content") or {}).items():
            after = ((new or {}).get("content") or {}).get(kind)
            if after and "schema" in before and "schema" in after:
                yield from self.schema(at, before["schema"], after["schema"], answered)

    def schema(self, at: str, old: Json, new: Json, answered: bool) -> Iterator[str]:
        names = (old.get("$ref", ""), new.get("$ref", ""), answered)
        if names[0] and names[1]:
            if names in self.seen:
                return
            self.seen.add(names)
            at = names[0].rsplit("/", 1)[-1]
        old, new = resolve(self.old, old), resolve(self.new, new)
        way = "answered" if answered else "taken"
        if old.get("format") != new.get("format"):
            yield f"{at}: format was {old.get('format')}, is {new.get('format')} ({way})"
        if not answered and old.get("default") != new.get("default"):
            yield f"{at}: default was {old.get('default')}, is {new.get('default')}"
        if answered:
            for word in set(new.get("enum") or []) - set(old.get("enum") or []):
                yield f"{at}: the word {word} can be answered now"
        for name, before in old.get("properties", {}).items():
            after = new.get("properties", {}).get(name)
            if after is not None:
                yield from self.schema(f"{at}.{name}", before, after, answered)
            elif not answered:
                yield f"{at}.{name}: is not taken any more"
        if "items" in old and "items" in new:
            yield from self.schema(f"{at}[]", old["items"], new["items"], answered)
        yield from self.forms(at, old, new, answered)

    def forms(self, at: str, old: Json, new: Json, answered: bool) -> Iterator[str]:
        """The forms of a union, told apart by the words that each of them fixes."""
        for union in ("oneOf", "anyOf", "allOf"):
            before = {tag(form): form for form in old.get(union, [])}
            after = {tag(form): form for form in new.get(union, [])}
            lost = after.keys() - before.keys() if answered else before.keys() - after.keys()
            for form in lost:
                yield f"{at}: the form {form} {'can be answered now' if answered else 'is gone'}"
            for form in before.keys() & after.keys():
                yield from self.schema(f"{at} {form}", before[form], after[form], answered)


def resolve(document: Json, schema: Json) -> Json:
    while "$ref" in schema:
        found: Any = document
        for part in schema["$ref"].lstrip("#/").split("/"):
            found = found[part]
        schema = found
    return schema


def tag(form: Json) -> str:
    """What tells a form of a union from the others."""
    if "$ref" in form:
        return str(form["$ref"]).rsplit("/", 1)[-1]
    fixed = {
        name: member["enum"][0]
        for name, member in form.get("properties", {}).items()
        if len(member.get("enum", [])) == 1
    }
    return str(fixed or form.get("type"))
