"""Changes of the document that must be found to break a client, and changes that must not."""

import copy
from collections.abc import Callable
from typing import Any

Json = dict[str, Any]
Change = Callable[[Json], None]

GROWERS, GROWER = "/v1/growers", "/v1/growers/{id}"
FIELDS = "/v1/fields"


def schema(document: Json, name: str) -> Json:
    return document["components"]["schemas"][name]


def member(document: Json, name: str, of: str) -> Json:
    return schema(document, of)["properties"][name]


def query(document: Json, path: str, name: str) -> Json:
    return next(p for p in document["paths"][path]["get"]["parameters"] if p["name"] == name)


def remove_operation(d: Json) -> None:
    del d["paths"][GROWER]["delete"]


def remove_path(d: Json) -> None:
    del d["paths"][GROWER]


def rename_operation(d: Json) -> None:
    d["paths"][GROWER]["get"]["operationId"] = "read_grower"


def remove_answered_member(d: Json) -> None:
    del schema(d, "Grower")["properties"]["name"]
    schema(d, "Grower")["required"].remove("name")


def answered_member_may_be_absent(d: Json) -> None:
    schema(d, "Grower")["required"].remove("name")


def answered_member_may_be_null(d: Json) -> None:
    member(d, "name", "Grower")["type"] = ["string", "null"]


def answered_member_of_another_type(d: Json) -> None:
    member(d, "version", "Grower")["type"] = "string"


def answered_member_of_another_format(d: Json) -> None:
    member(d, "created_at", "Grower")["format"] = "date"


def answered_word_added(d: Json) -> None:
    schema(d, "TextureClass")["enum"].append("peat")


def answered_list_of_others(d: Json) -> None:
    member(d, "items", "GrowerPage")["items"] = {"type": "string"}


def answer_with_another_status(d: Json) -> None:
    responses = d["paths"][GROWERS]["post"]["responses"]
    responses["202"] = responses.pop("201")


def answer_of_another_kind(d: Json) -> None:
    content = d["paths"][GROWERS]["get"]["responses"]["200"]["content"]
    content["application/xml"] = content.pop("application/json")


def wanted_member_added(d: Json) -> None:
    schema(d, "GrowerIn")["properties"]["county"] = {"type": "string", "maxLength": 80}
    schema(d, "GrowerIn")["required"].append("county")


def member_wanted_now(d: Json) -> None:
    schema(d, "GrowerIn")["required"].append("email")


def taken_member_removed(d: Json) -> None:
    del schema(d, "GrowerIn")["properties"]["phone"]


def taken_member_of_another_type(d: Json) -> None:
    member(d, "notes", "GrowerIn")["type"] = "integer"


def taken_text_shorter(d: Json) -> None:
    member(d, "name", "GrowerIn")["maxLength"] = 12


def taken_text_longer_at_least(d: Json) -> None:
    member(d, "name", "GrowerIn")["minLength"] = 4


def taken_text_of_another_pattern(d: Json) -> None:
    member(d, "name", "GrowerIn")["pattern"] = "^[a-z]+$"


def taken_word_removed(d: Json) -> None:
    schema(d, "TextureClass")["enum"].remove("loam")


def taken_default_changed(d: Json) -> None:
    member(d, "issue", "AcceptIn")["default"] = True


def answered_form_added(d: Json) -> None:
    form = copy.deepcopy(schema(d, "SetOnPlanter")["oneOf"][0])
    tag = next(m for m in form["properties"].values() if len(m.get("enum", [])) == 1)
    tag["enum"] = ["by_feel"]
    schema(d, "SetOnPlanter")["oneOf"].append(form)


def taken_form_removed(d: Json) -> None:
    schema(d, "Hopper")["oneOf"].pop()


def wanted_query_added(d: Json) -> None:
    d["paths"][GROWERS]["get"]["parameters"].append(
        {"name": "season", "in": "query", "required": True, "schema": {"type": "integer"}}
    )


def query_wanted_now(d: Json) -> None:
    query(d, GROWERS, "advisor_id")["required"] = True


def query_removed(d: Json) -> None:
    parameters = d["paths"][GROWERS]["get"]["parameters"]
    parameters.remove(query(d, GROWERS, "advisor_id"))


def query_narrower(d: Json) -> None:
    query(d, GROWERS, "limit")["schema"]["maximum"] = 20


def query_of_another_type(d: Json) -> None:
    query(d, GROWERS, "limit")["schema"] = {"type": "string", "maxLength": 9}


def another_permission(d: Json) -> None:
    d["paths"][GROWER]["get"]["security"] = [{"bearer": ["manage"]}]


def caller_wanted_now(d: Json) -> None:
    d["paths"]["/v1/sessions"]["post"]["security"] = [{"bearer": ["read"]}]


BREAKS: list[Change] = [
    remove_operation,
    remove_path,
    rename_operation,
    remove_answered_member,
    answered_member_may_be_absent,
    answered_member_may_be_null,
    answered_member_of_another_type,
    answered_member_of_another_format,
    answered_word_added,
    answered_list_of_others,
    answer_with_another_status,
    answer_of_another_kind,
    wanted_member_added,
    member_wanted_now,
    taken_member_removed,
    taken_member_of_another_type,
    taken_text_shorter,
    taken_text_longer_at_least,
    taken_text_of_another_pattern,
    taken_word_removed,
    taken_default_changed,
    answered_form_added,
    taken_form_removed,
    wanted_query_added,
    query_wanted_now,
    query_removed,
    query_narrower,
    query_of_another_type,
    another_permission,
    caller_wanted_now,
]


def nothing(d: Json) -> None:
    del d


def answered_member_added(d: Json) -> None:
    schema(d, "Grower")["properties"]["county"] = {"type": "string"}
    schema(d, "Grower")["required"].append("county")


def taken_member_added(d: Json) -> None:
    schema(d, "GrowerIn")["properties"]["county"] = {"type": "string", "maxLength": 80}


def taken_text_may_be_longer(d: Json) -> None:
    member(d, "name", "GrowerIn")["maxLength"] = 500


def query_added(d: Json) -> None:
    d["paths"][GROWERS]["get"]["parameters"].append(
        {"name": "season", "in": "query", "required": False, "schema": {"type": "integer"}}
    )


def operation_added(d: Json) -> None:
    copy = dict(d["paths"][GROWERS]["get"], operationId="list_retired_growers")
    d["paths"]["/v1/retired-growers"] = {"get": copy}


def operation_marked_to_go(d: Json) -> None:
    d["paths"][GROWER]["get"]["deprecated"] = True


def other_words(d: Json) -> None:
    schema(d, "Grower")["description"] = "Who plants."
    d["paths"][GROWER]["get"]["summary"] = "Read a grower."


def error_added(d: Json) -> None:
    responses = d["paths"][GROWERS]["get"]["responses"]
    responses["429"] = dict(responses["403"], description="Too many.")


HARMLESS: list[Change] = [
    nothing,
    answered_member_added,
    taken_member_added,
    taken_text_may_be_longer,
    query_added,
    operation_added,
    operation_marked_to_go,
    other_words,
    error_added,
]
