# SPDX-License-Identifier: MIT
"""The schemas of docs/schemas: whether a value is right, and which objects of them speak of each map of a value."""

import json
import os
from urllib.parse import urljoin

import jsonschema

import editor_yaml

FOLDER = "docs/schemas"
# What may stand beside a $ref: draft-07 passes over everything else there.
ANNOTATIONS = {"title", "description", "examples", "default"}


class Schemas:
    def __init__(self):
        self.files = {}
        for name in sorted(os.listdir(FOLDER)):
            with open(os.path.join(FOLDER, name), encoding="utf-8") as file:
                self.files[name] = json.load(file)
        self.validators = {}
        self.resolvers = {}
        for name, schema in self.files.items():
            kind = jsonschema.validators.validator_for(schema)
            self.validators[name] = kind(schema, resolver=self.resolver(name))

    def resolver(self, name):
        if name not in self.resolvers:
            self.resolvers[name] = jsonschema.RefResolver(name, self.files[name], store=self.files)
        return self.resolvers[name]

    def complaints(self, name, value):
        return list(self.validators[name].iter_errors(value))

    def resolved_once(self, name, schema):
        """Follows one $ref: the schema, and the file that it stands in."""
        name, _, pointer = urljoin(name, schema["$ref"]).partition("#")
        schema = self.files[name]
        for step in filter(None, pointer.split("/")):
            schema = schema[step]
        return schema, name

    def resolved(self, name, schema):
        while isinstance(schema, dict) and "$ref" in schema:
            schema, name = self.resolved_once(name, schema)
        return schema, name

    def holds(self, name, schema, value):
        return jsonschema.Draft7Validator(schema, resolver=self.resolver(name)).is_valid(value)

    def branches(self, name, schema, value):
        """Every schema that has to be met here for the value: itself, allOf, what `if` leads to, and what fits of anyOf.
        As (schema, file)."""
        schema, name = self.resolved(name, schema)
        if not isinstance(schema, dict):
            return
        yield schema, name
        below = list(schema.get("allOf", []))
        if "if" in schema:
            below.append(schema.get("then" if self.holds(name, schema["if"], value) else "else", {}))
        below += [one for one in schema.get("anyOf", []) if self.holds(name, one, value)]
        for one in below:
            yield from self.branches(name, one, value)

    def each_value(self, schemas, node, value):
        """Yields (node, branches) for a value and every one in it, outside in. `node` is the value as YAML, `schemas` a
        list of (schema, file) that it has to meet."""
        branches = [pair for schema, file in schemas for pair in self.branches(file, schema, value)]
        yield node, branches
        if isinstance(value, dict):
            for key, child in node.value:
                yield from self.each_value(of_key(branches, key.value), child, value[key.value])
        elif isinstance(value, list):
            items = [(one["items"], file) for one, file in branches if "items" in one]
            for child, item in zip(node.value, value):
                yield from self.each_value(items, child, item)

    def each_of_document(self, document):
        """each_value() of a document of any kind."""
        root = [(self.files["any.schema.json"], "any.schema.json")]
        return self.each_value(root, document, editor_yaml.typed(document))


def of_key(branches, key):
    """The schemas that the branches have for a key."""
    found = [(one.get("properties", {}).get(key, one.get("additionalProperties")), file) for one, file in branches]
    return [(one, file) for one, file in found if one is not None]


def keys_of(branches):
    """Which keys a map may have, and must have, by the branches for it; and whether others are let through."""
    known, barred, required, closed = set(), set(), set(), False
    for one, _ in branches:
        for key, value in one.get("properties", {}).items():
            (barred if value is False else known).add(key)
        # A bare `required` is a condition of an anyOf, such as a part's kind.
        if "properties" in one:
            required.update(one.get("required", []))
        closed = closed or one.get("additionalProperties") is False
    return known - barred, required, closed


def every_schema(schema, path=""):
    """Yields (path, schema) for each schema inside one, itself included."""
    if not isinstance(schema, dict):
        return
    yield path, schema
    for word in ("properties", "definitions", "$defs"):
        for key, one in schema.get(word, {}).items():
            yield from every_schema(one, f"{path}/{word}/{key}")
    for word in ("items", "additionalProperties", "propertyNames", "if", "then", "else", "not"):
        yield from every_schema(schema.get(word), f"{path}/{word}")
    for word in ("allOf", "anyOf"):
        for i, one in enumerate(schema.get(word, [])):
            yield from every_schema(one, f"{path}/{word}/{i}")
