# SPDX-License-Identifier: MIT
"""The schemas of docs/schemas against the program's own reading of files.

What is held together, none of it by a list that somebody keeps:
  verdicts   every YAML file of data, rules and tests, and a few dozen drawn cases: what the program accepts is right by the
             schemas, what it refuses is not. A file that only the program can see to be wrong says so: # schema: cannot
  keys       for every map of every accepted file, the keys that the schema has are those that the reading knows; what
             must be there must be there in both. load_facts tells the latter from the running program
  words      each list of words (processor, heat-sink, ...) is the one that the program says it expects
  types      each attribute is a number or text in both
  variants   accepted files with one thing changed, thousands of them (variants.py)
  record     docs/files.md's example is right; with a key less, a key more or a value amiss it is not
  form       each schema is one, by its own draft; every key has a description; the long patterns are those of patterns.py
"""

import argparse
import json
import os
import re
import subprocess
import sys
import warnings

import yaml

import editor_yaml
import patterns
import variants
from loading import Loading, accepted, own_complaints, yaml_files
from schema_files import ANNOTATIONS, Schemas, every_schema, keys_of

warnings.simplefilter("ignore", DeprecationWarning)

CANNOT = "# schema: cannot"
NO_WORD = "qqqqqqqqqqqqqqq"
DRAWN_CASES = 24
# Not read by the program: what it prints (plan's is read as a route), and what the others share.
NOT_READ = {"printed-route", "printed-explain", "printed-batch", "common", "any"}

failures = []


def check(holds, text):
    if not holds:
        failures.append(text)


def first_lines(errors):
    return "; ".join(f"{'/'.join(map(str, error.absolute_path))}: {error.message[:150]}" for error in errors[:3])


# ---- Verdicts -------------------------------------------------------------------------------------------------------


def check_verdicts(schemas, loading, files):
    """Returns the accepted files, each with the run that accepted it."""
    good, seen, unseen = {}, 0, 0
    for path, run in loading.of_files(files).items():
        with open(path, "rb") as file:
            raw = file.read()
        says_cannot = CANNOT in raw.decode("utf-8", "replace").splitlines()
        try:
            nodes = editor_yaml.nodes_of(raw)
        except (yaml.YAMLError, UnicodeDecodeError):
            check(not accepted(run, path), f"{path}: the program accepts it, and an editor could not read the YAML")
            check(not says_cannot, f"{path}: says \"{CANNOT}\", and its YAML cannot even be read")
            continue
        errors = [error for node in nodes for error in schemas.complaints("any.schema.json", editor_yaml.typed(node))]
        if accepted(run, path):
            good[path] = run
            check(not errors, f"{path}: the program accepts it, the schema does not: {first_lines(errors)}")
            check(not says_cannot, f"{path}: says \"{CANNOT}\", and there is nothing wrong with it")
            old = editor_yaml.nodes_of(raw, editor_yaml.OldLoader)
            errors = [one for node in old for one in schemas.complaints("any.schema.json", editor_yaml.typed(node))]
            check(not errors, f"{path}: not right where yes and on are typed: {first_lines(errors)}")
            continue
        seen += bool(errors)
        unseen += says_cannot
        told = own_complaints(run, path)[0]["what"]
        check(not (errors and says_cannot),
              f"{path}: says \"{CANNOT}\", and the schema does see it: {first_lines(errors)}. Take the line out")
        check(errors or says_cannot,
              f"{path}: refused ({told}), and the schema lets it through. If no schema can see that, let the last line of "
              f"the file be \"{CANNOT}\"")
    check(seen >= 50 and unseen >= 50, f"only {seen} files refused by both, {unseen} by the program alone")
    print(f"verdicts: {len(good)} files right in both, {seen} wrong in both, {unseen} wrong to the program alone")
    return good


# ---- Keys -----------------------------------------------------------------------------------------------------------


def documents_of(path):
    with open(path, "rb") as file:
        return editor_yaml.nodes_of(file.read())


def check_keys(schemas, loading, good):
    usual = loading.usual_attributes()
    met, compared = set(), 0
    for path, run in good.items():
        extra = set(run["attributes"]) - set(usual)
        read = {(one["line"], one["column"]): one for one in run["maps"] if os.path.samefile(one["file"], path)}
        for document in documents_of(path):
            for node, branches in schemas.each_of_document(document):
                if not isinstance(node, yaml.MappingNode):
                    continue
                one = read.get(editor_yaml.place(node))
                compared += bool(one)
                met.update(id(branch) for branch, _ in branches if one)
                compare_keys(f"{path}:{editor_yaml.place(node)}", keys_of(branches), one, extra)
    check(compared > 1000, f"only {compared} maps compared")
    for name, place, one in read_schemas(schemas):
        closed = one.get("additionalProperties") is not None and "properties" in one
        check(not closed or id(one) in met, f"{name}#{place}: no accepted file of the tests has such a map")
    print(f"keys: {compared} maps compared")


def compare_keys(where, from_schema, read, extra):
    known, required, closed = from_schema
    if not read:
        check(not known, f"{where}: the schema has keys, the program reads none")
        return
    where, program = f"{where}: {read['what']}", set(read["known"])
    check(known - extra == program - extra, f"{where}: only the schema knows {sorted(known - extra - program)}, only the "
                                            f"program {sorted(program - extra - known)}")
    # A unit's firmware is required only where its board has components: a schema does not see the board.
    asked = set(read["required"] or []) - ({"firmware"} if read["what"] == "this unit" else set())
    check(required == asked, f"{where}: the schema asks for {sorted(required)}, the program for {sorted(asked)}")
    check(not (closed and read["reads-past"]), f"{where}: the program reads past more keys, the schema does not")


def read_schemas(schemas):
    """Every schema of documents that the program reads, and of what they share."""
    for name, schema in schemas.files.items():
        if name.split(".")[0] not in NOT_READ - {"common"}:
            for place, one in every_schema(schema):
                yield name, place, one


# ---- Words ----------------------------------------------------------------------------------------------------------


def check_words(schemas, loading, good):
    """Every list of words: a word of no list in its place, and the program says which ones it expected."""
    lists, runs = {}, []
    for path in good:
        for document in documents_of(path):
            for node, branches in schemas.each_of_document(document):
                for one, file in branches:
                    if "enum" in one and id(one) not in lists:
                        name = os.path.join(loading.scratch, f"word-{len(lists)}.yaml")
                        lists[id(one)] = (file, set(map(str, one["enum"])) - {"True", "False"}, name)
                        write_without_word(path, node, name)
                        runs.append(loading.beside[path] + [name])
    for (file, words, name), run in zip(lists.values(), loading.runs(runs)):
        told = next((one for one in run["complaints"] if NO_WORD in one["what"]), {"expected": ""})
        expected = set(re.sub(r"^expected (one of )?", "", told["expected"]).split(", "))
        # A word alone may stand beside others that are listed elsewhere (`with: slot`): refusing the other one will do.
        check(words == expected or (len(words) == 1 and told["expected"]),
              f"{file}: words {sorted(words)}, where the program expects {sorted(expected)}")
    for name, place, one in read_schemas(schemas):
        if "enum" in one and not re.search("/(if|then|not)", place):
            check(id(one) in lists, f"{name}#{place}: no accepted file of the tests has such a word")
    print(f"words: {len(lists)} lists compared")


def write_without_word(path, node, name):
    """A copy of a file with another word in one place."""
    with open(path, encoding="utf-8") as file:
        text = file.read()
    with open(name, "w", encoding="utf-8") as file:
        file.write(text[:node.start_mark.index] + NO_WORD + text[node.end_mark.index:])


# ---- Kinds of documents and attributes ------------------------------------------------------------------------------


def check_kinds(schemas, loading):
    """A document kind that the program reads has a schema, and the other way round."""
    for name in schemas.files:
        word = name.split(".")[0]
        told = loading.of_text(f"{word}: x\n")["complaints"]
        is_read = not any("cannot start with" in one["what"] for one in told)
        check(is_read == (word not in NOT_READ),
              f"{name}: {'is' if is_read else 'is not'} a document that the program reads")
    told = loading.of_text("zzzzzzzz: x\n")["complaints"][0]
    words = re.findall(r"[a-z]+", re.sub(r"^expected | as the first key$", "", told["expected"]))
    for word in set(words) - {"or"}:
        check(f"{word}.schema.json" in schemas.files, f"the program reads documents that start with {word}; no schema does")


def check_types(schemas, loading):
    shared = schemas.files["common.schema.json"]["definitions"]
    numbers = set()
    for name, kind in loading.usual_attributes().items():
        one, _ = schemas.resolved("common.schema.json", shared["attributes"]["properties"].get(name, {}))
        check(("array" in one.get("type", [])) == (kind == "text"), f"attribute {name} is {kind} to the program only")
        numbers.update([name] if kind == "number" else [])
    words = shared["counted-attribute"]["allOf"][1]["not"]["enum"]
    check(set(words) == set(loading.usual_attributes()) - numbers, "counted-attribute: not the attributes that are text")


# ---- Record ---------------------------------------------------------------------------------------------------------


def examples_of_page():
    with open("docs/files.md", encoding="utf-8") as file:
        blocks = re.findall(r"^```yaml\n(.*?)^```", file.read(), re.S | re.M)
    return [(node, editor_yaml.typed(node)) for block in blocks for node in editor_yaml.nodes_of(block)]


def check_examples(schemas):
    kinds = set()
    for node, value in examples_of_page():
        kinds.add(next(iter(value)))
        errors = schemas.complaints("any.schema.json", value)
        check(not errors, f"docs/files.md, the example of a {next(iter(value))}: {first_lines(errors)}")
    missing = {name.split(".")[0] for name in schemas.files} - NOT_READ - kinds
    check(not missing, f"docs/files.md has no example of {sorted(missing)}")


def check_record(schemas):
    record = next(value for _, value in examples_of_page() if "record" in value)

    def refused(change, what):
        other = json.loads(json.dumps(record))
        change(other)
        check(schemas.complaints("record.schema.json", other), f"record.schema.json lets through {what}")

    for key in ("record", "unit", "entries"):
        refused(lambda other: other.pop(key), f"a record without {key}")
    for key in ("step", "outcome", "time", "initials"):
        refused(lambda other: other["entries"][0].pop(key), f"an entry without {key}")
    refused(lambda other: other.update(units="x"), "a key of its own")
    for key, value in (("outcome", "maybe"), ("time", "2034-03-05 09:41"), ("time", "2034-13-05T09:41Z"),
                       ("time", "2034-03-05T09:41"), ("step", 0), ("step", {"do": "swap"}), ("initials", ""),
                       ("found", ""), ("seen", "x")):
        refused(lambda other: other["entries"][0].update({key: value}), f"an entry whose {key} is {value!r}")
    failed = next((one for one in record["entries"] if one["outcome"] == "failed"), None)
    check(failed, "docs/files.md: the record has no entry that failed")
    refused(lambda other: [one.pop("found", None) for one in other["entries"]], "a failure without what was found")


# ---- Form -----------------------------------------------------------------------------------------------------------


def check_form(schemas):
    for name, schema in schemas.files.items():
        schemas.validators[name].check_schema(schema)
        if not name.startswith("printed-"):
            check("draft-07" in schema["$schema"], f"{name}: not draft-07")
        for place, one in every_schema(schema):
            if "$ref" in one and "draft-07" in schema["$schema"]:
                check(set(one) - {"$ref"} <= ANNOTATIONS, f"{name}#{place}: what stands beside a $ref is passed over")
            if name.startswith("printed-"):
                continue
            for key, value in one.get("properties", {}).items():
                in_condition = "/if" in place or "/then" in place or "/not" in place
                told = value is not True and value is not False and described(schemas, name, value)
                check(told or value in (True, False) or in_condition or is_refinement(place),
                      f"{name}#{place}: key {key} has no description")
    shared = {key: one for name in ("common", "book", "want")
              for key, one in schemas.files[f"{name}.schema.json"]["definitions"].items()}
    for key, pattern in patterns.PATTERNS.items():
        check(shared[key]["pattern"] == pattern, f"the pattern of {key} is not the one of patterns.py")


def described(schemas, name, value):
    while True:
        if "description" in value or "$ref" not in value:
            return "description" in value
        value, name = schemas.resolved_once(name, value)


def is_refinement(place):
    """Places that only narrow a key which is described elsewhere."""
    return "/definitions/releases-" in place or "/anyOf/" in place


# ---- All ------------------------------------------------------------------------------------------------------------


def drawn(program, scratch):
    """A few dozen cases of the random tests."""
    paths = []
    for seed in range(1, DRAWN_CASES + 1):
        path = os.path.join(scratch, f"drawn-{seed}.yaml")
        with open(path, "w", encoding="utf-8") as file:
            subprocess.run([program, "--seed", str(seed)], stdout=file, check=True)
        paths.append(path)
    return paths


def main():
    parser = argparse.ArgumentParser()
    for name in ("load-facts", "draw", "program", "scratch"):
        parser.add_argument(f"--{name}", required=True)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--variants", type=int, default=800)
    options = parser.parse_args()
    os.makedirs(options.scratch, exist_ok=True)
    schemas = Schemas()
    loading = Loading(options.load_facts, options.scratch)
    files = [path for folder in ("data", "rules", "tests") for path in yaml_files(folder)]
    check_form(schemas)
    check_kinds(schemas, loading)
    check_types(schemas, loading)
    good = check_verdicts(schemas, loading, files + drawn(options.draw, options.scratch))
    check_keys(schemas, loading, good)
    check_words(schemas, loading, good)
    check_examples(schemas)
    check_record(schemas)
    check_printed(schemas, options.program)
    variants.check_variants(schemas, loading, good, options.variants, options.seed, check)
    for failure in failures[:600]:
        print(failure)
    print(f"{len(failures)} differences" if failures else "schemas and program agree")
    return 1 if failures else 0


def printed_by(program, command):
    """The JSON that a command prints about a story of the demo shop; None where it prints none."""
    line = [program, command, "--json", "data/larkfield/book", "data/larkfield/shop.yaml",
            "data/larkfield/units/01-dark-needs-a-loaner.yaml"]
    printed = subprocess.run(line, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
    try:
        return json.loads(printed.stdout)
    except json.JSONDecodeError:
        check(False, f"{command} printed no JSON, and left with {printed.returncode}: {printed.stdout[:500]}")
        return None


def check_printed(schemas, program):
    """What plan prints is right by both schemas that speak of it; what explain prints by its own."""
    value = printed_by(program, "plan")
    for name in ("printed-route.schema.json", "route.schema.json", "any.schema.json") if value else ():
        errors = schemas.complaints(name, value)
        check(not errors, f"what plan prints, by {name}: {first_lines(errors)}")
    check(not value or value.get("steps"), "plan printed no steps")
    value = printed_by(program, "explain")
    errors = schemas.complaints("printed-explain.schema.json", value) if value else []
    check(not errors, f"what explain prints, by its schema: {first_lines(errors)}")
    check(not value or value.get("ways"), "explain printed no ways out")


if __name__ == "__main__":
    sys.exit(main())
