# SPDX-License-Identifier: MIT
"""YAML as an editor reads it before it asks a schema: each scalar typed, each value with its place.

source: YAML 1.2.2, 10.3.2 "Tag Resolution" of the core schema. PyYAML's own resolver is that of YAML 1.1, so that it is
left out; its scanner and composer are kept."""

import json
import re

import yaml
from yaml.composer import Composer
from yaml.parser import Parser
from yaml.reader import Reader
from yaml.resolver import BaseResolver
from yaml.scanner import Scanner

CORE = [
    ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", list("-+0123456789")),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?|[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)",
     list("-+.0123456789")),
]
# Words that editors which still go by YAML 1.1 take for a yes or a no. source: its type repository, "bool"
OLD_BOOL = r"yes|Yes|YES|on|On|ON|no|No|NO|off|Off|OFF"


class CoreResolver(BaseResolver):
    pass


class OldResolver(BaseResolver):
    pass


for kind, pattern, first in CORE:
    for resolver in (CoreResolver, OldResolver):
        resolver.add_implicit_resolver(f"tag:yaml.org,2002:{kind}", re.compile(rf"^(?:{pattern})$"), first)
OldResolver.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile(rf"^(?:{OLD_BOOL})$"), list("yYnNoO"))


class CoreLoader(Reader, Scanner, Parser, Composer, CoreResolver):
    def __init__(self, stream):
        Reader.__init__(self, stream)
        Scanner.__init__(self)
        Parser.__init__(self)
        Composer.__init__(self)
        CoreResolver.__init__(self)


class OldLoader(Reader, Scanner, Parser, Composer, OldResolver):
    def __init__(self, stream):
        Reader.__init__(self, stream)
        Scanner.__init__(self)
        Parser.__init__(self)
        Composer.__init__(self)
        OldResolver.__init__(self)


def nodes_of(text, loader=CoreLoader):
    """The documents of a text as nodes, empty ones left out. Raises yaml.YAMLError."""
    documents = [node for node in yaml.compose_all(text, loader) if node is not None]
    for node in documents:
        check_keys(node)
    return [node for node in documents if node.tag != "tag:yaml.org,2002:null"]


def check_keys(node):
    """YAML 1.2.2, 3.2.1.3: the keys of a map are unique. PyYAML does not look; editors do."""
    children = []
    if isinstance(node, yaml.MappingNode):
        seen = set()
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                raise yaml.composer.ComposerError("", None, "a key that is no word", key.start_mark)
            if key.value in seen:
                raise yaml.composer.ComposerError("", None, f"key {key.value} is given twice", key.start_mark)
            seen.add(key.value)
            children.append(value)
    elif isinstance(node, yaml.SequenceNode):
        children = node.value
    for child in children:
        check_keys(child)


def typed(node):
    """What a node is in JSON. The keys of maps are text in JSON, whatever they look like."""
    if isinstance(node, yaml.MappingNode):
        return {key.value: typed(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [typed(item) for item in node.value]
    kind, text = node.tag.rsplit(":", 1)[1], node.value
    if kind == "null":
        return None
    if kind == "bool":
        return text.lower() in ("true", "yes", "on")
    if kind == "int":
        return int(text, 16 if text.startswith("0x") else 8 if text.startswith("0o") else 10)
    if kind == "float":
        return float(text.replace(".inf", "inf").replace(".nan", "nan").lower())
    return text


def place(node):
    """Line and column of a node, both from 1, as the program counts them."""
    return node.start_mark.line + 1, node.start_mark.column + 1


def written(node):
    """A node as YAML on one line, each scalar of the type that it had."""
    if isinstance(node, yaml.MappingNode):
        return "{" + ", ".join(f"{written(key)}: {written(value)}" for key, value in node.value) + "}"
    if isinstance(node, yaml.SequenceNode):
        return "[" + ", ".join(written(item) for item in node.value) + "]"
    plain = node.style is None and re.match(r"^[A-Za-z0-9_+~.-]*$", node.value) and node.value != "..."
    return node.value if plain else json.dumps(node.value, ensure_ascii=False)
