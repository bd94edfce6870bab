# SPDX-License-Identifier: MIT
"""Accepted files with one thing changed, read by the program and held against the schemas.

What the program accepts must be right by the schemas. What it refuses for a reason of the kind that a schema can see (told
by the wording of its complaint) must not be. Most variants fail for another reason as well, a name that nothing defines;
only the complaints about what was changed count then, and there is one seed to repeat a run by."""

import os
import random
import re

import yaml

import editor_yaml
from schema_files import keys_of

# Text between scalars of several types, each as a person would write it. Left out is what an editor types so that no schema
# could tell it from something right: a signature's decimal digits (5 for 0x5), decimals of minutes, 1e3, null, true for the word on (docs/files.md, "Schemas").
SCALARS = ["5", "-5", "1.5", "yes", "no", "maybe", "unknown", "empty", "'a b'", "'='", "''", "'>= 1.0'", "'x >='", "'<'",
           "'and'", "'x y z'", "'x & y'", "'1.0 .. 1.4'", "2033-01-01", "2033-13-01", "0x123456789", "host", "clip",
           "processor", "heat-sink", "slot", "board", "on", "standby", "stops", "dotted", "99999999999", "-robin", "'12'"]
OTHERS = ["[]", "[a]", "[host]", "[5, yes]", "[[a]]", "{}", "{a: b}", "{generation: dorvan}", ""]

# Complaints of the kind that a schema can see.
SEEN = re.compile(
    r'has no key "|is a list$|is text$|is keys with values$|has no value$|cannot be "(?!yes|no|true|false)|'
    r'" cannot be a name$|is empty$|is an empty list$|" is not a number$|(?<![.]0)" is not a whole number$|is negative$|'
    r'is too large$|out of range$|'
    r'" is not a (date|time)$|has no spare image$|^sha256 has|^signature "(?![0-9]+")[^"]*" is not a 32-bit|the expression ends too early|does not belong here$|cannot be provided$|'
    r'this rule has no form|this rule asks for nothing|both stepping and steppings')
UNKNOWN_KEY = re.compile(r'^unknown key "')


def scalar(text):
    return yaml.compose(text, editor_yaml.CoreLoader)


def each_node(node):
    """Every map and list with a way to its members: (parent, index) of each value below a node."""
    if isinstance(node, yaml.MappingNode):
        for i, (_, value) in enumerate(node.value):
            yield node, i
            yield from each_node(value)
    elif isinstance(node, yaml.SequenceNode):
        for i, value in enumerate(node.value):
            yield node, i
            yield from each_node(value)


def copy(node):
    if isinstance(node, yaml.ScalarNode):
        return node  # never changed, only put in another place
    members = [(key, copy(value)) for key, value in node.value] if isinstance(node, yaml.MappingNode) else \
        [copy(value) for value in node.value]
    return type(node)(node.tag, members)


class Changer:
    def __init__(self, good, seed):
        self.random = random.Random(seed)
        self.files = {}
        self.pairs = []
        for path in sorted(good):
            with open(path, encoding="utf-8-sig") as file:
                self.files[path] = editor_yaml.nodes_of(file.read())
            for document in self.files[path]:
                self.pairs += [parent.value[i] for parent, i in each_node(document)
                               if isinstance(parent, yaml.MappingNode)]

    def change(self, node):
        """Changes one thing below a node."""
        parent, i = self.random.choice(list(each_node(node)))
        in_map = isinstance(parent, yaml.MappingNode)
        way = self.random.randrange(6)
        if way == 0 and in_map:
            del parent.value[i]
        elif way == 1 and in_map:
            parent.value.append((scalar(self.random.choice(["zz-unknown", "slot", "part", "from", "watts", "when"])),
                                 scalar(self.random.choice(SCALARS))))
        elif way == 2 and in_map:
            parent.value.append(self.random.choice(self.pairs))
        else:
            text = self.random.choice(SCALARS if way < 5 else OTHERS)
            value = scalar(text) or scalar("x: ").value[0][1]
            if way == 3:
                value = self.random.choice(self.pairs)[1]
            parent.value[i] = (parent.value[i][0], value) if in_map else value

    def variant(self):
        """A file's path and its text with one thing changed."""
        path = self.random.choice(sorted(self.files))
        documents = [copy(document) for document in self.files[path]]
        self.change(self.random.choice(documents))
        return path, "\n---\n".join(editor_yaml.written(document) for document in documents) + "\n"


def closed_at(schemas, documents, place):
    """Whether the map around a place lets no keys through but its own. False where the schemas do not get that far."""
    for document in documents:
        for node, branches in schemas.each_of_document(document):
            if isinstance(node, yaml.MappingNode) and any(editor_yaml.place(key) == place for key, _ in node.value):
                return keys_of(branches)[2]
    return False


def should_be_seen(schemas, documents, complaints):
    for one in complaints:
        if SEEN.search(one["what"]) and not one["what"].startswith('this unit has no key "firmware"'):
            return True
        if UNKNOWN_KEY.search(one["what"]) and closed_at(schemas, documents, (one["line"], one["column"])):
            return True
    return False


def check_variants(schemas, loading, good, count, seed, check):
    changer = Changer(good, seed)
    variants, runs = [], []
    for i in range(count):
        path, text = changer.variant()
        try:
            documents = editor_yaml.nodes_of(text)
        except yaml.YAMLError:
            continue  # a key given twice
        name = os.path.join(loading.scratch, f"variant-{i}.yaml")
        with open(name, "w", encoding="utf-8") as file:
            file.write(text)
        variants.append((path, name, documents))
        runs.append(loading.beside[path] + [name])
    accepted, seen = 0, 0
    for (path, name, documents), run in zip(variants, loading.runs(runs)):
        told = [one for one in run["complaints"] if one["file"] == name]
        errors = [error for node in documents
                  for error in schemas.complaints("any.schema.json", editor_yaml.typed(node))]
        first = f"{'/'.join(map(str, errors[0].absolute_path))}: {errors[0].message[:150]}" if errors else ""
        keep = False
        if not told:
            accepted += 1
            keep = bool(errors)
            check(not errors, f"{name} (from {path}): the program accepts it, the schema does not: {first}")
        elif should_be_seen(schemas, documents, told):
            seen += 1
            keep = not errors
            check(errors, f"{name} (from {path}): refused ({told[0]['what']}), and the schema lets it through")
        if not keep:
            os.unlink(name)
    check(accepted > count / 20 and seen > count / 20, f"variants: only {accepted} accepted, {seen} to be seen")
    print(f"variants: {len(variants)}, of which the program accepts {accepted}, and {seen} are wrong to a schema")
