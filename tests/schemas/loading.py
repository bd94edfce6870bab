# SPDX-License-Identifier: MIT
"""Has the program read files, each together with what it needs beside it, and tells what came of it."""

import functools
import json
import os
import subprocess

import editor_yaml
import yaml

MALFORMED = "tests/malformed/"
# GLib never gives back the table of its interned strings that it outgrows (at 2,048), which a leak checker tells of.
RUNS_AT_ONCE = 60


def own_complaints(run, path):
    return [one for one in run["complaints"] if one["file"] == path]


def accepted(run, path):
    return not own_complaints(run, path)


def base_of(path):
    """The files that a file of tests/malformed names as read before it."""
    with open(path, "rb") as file:
        lines = file.read().decode("utf-8", "replace").lstrip("\ufeff").splitlines()
    return [MALFORMED + line[len("# with: "):] for line in lines if line.startswith("# with: ")]


class Loading:
    def __init__(self, program, scratch):
        self.program, self.scratch = program, scratch
        self.books, self.usual = None, None
        self.beside = {}

    def runs(self, lists):
        """One answer for each list of paths."""
        answers = []
        for start in range(0, len(lists), RUNS_AT_ONCE):
            lines = "".join("\t".join(one) + "\n" for one in lists[start:start + RUNS_AT_ONCE])
            told = subprocess.run([self.program], input=lines, text=True, stdout=subprocess.PIPE, check=True)
            answers += [json.loads(line) for line in told.stdout.splitlines()]
        assert len(answers) == len(lists)
        return answers

    def of_text(self, text):
        path = os.path.join(self.scratch, "one.yaml")
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
        return self.runs([[path]])[0]

    def usual_attributes(self):
        if self.usual is None:
            self.usual = self.of_text("book: x\n")["attributes"]
        return self.usual

    def of_files(self, paths):
        """For each file the run in which it is read with the companions under which it is accepted; without such ones,
        alone. Those of a malformed file are named in it; for others every book and every unit near it are tried."""
        for path in paths:
            self.beside[path] = base_of(path) if is_malformed(path) else []
        found = dict(zip(paths, self.runs([self.beside[path] + [path] for path in paths])))
        for more in (self.all_books, self.books_with_units):
            left = [path for path in paths if not is_malformed(path) and not accepted(found[path], path)]
            tries = [(path, one) for path in left for one in more(path) if path not in one]
            for (path, companions), run in zip(tries, self.runs([one + [path] for path, one in tries])):
                if not run["complaints"] and not accepted(found[path], path):
                    self.beside[path], found[path] = companions, run
        return found

    def books_with_units(self, path):
        near = os.path.dirname(os.path.dirname(path))
        folders = [os.path.dirname(path)] + ([] if near in ("tests", "") else [near])
        units = [one for folder in folders for one in yaml_files(folder) if "unit" in kinds_of(one)]
        return [book + [unit] for book in self.all_books(path) for unit in units]

    def all_books(self, path):
        """Every book, those beside the file first."""
        if self.books is None:
            single = [[one] for one in yaml_files("tests") if "malformed" not in one and "book" in kinds_of(one)]
            own = [[MALFORMED + "base/bench.yaml"], [MALFORMED + "base/spare.yaml"]]
            demo = [["data/larkfield/book"], ["data/larkfield/book", "rules"]]  # what was seen names looks of the latter
            self.books = demo + own + single
        return sorted(self.books, key=lambda book: os.path.dirname(book[0]) != os.path.dirname(path))


def is_malformed(path):
    return path.startswith(MALFORMED) and not path.startswith(MALFORMED + "base/")


@functools.lru_cache(maxsize=None)
def yaml_files(folder):
    return [os.path.join(inside, name) for inside, _, names in sorted(os.walk(folder)) for name in sorted(names)
            if name.endswith((".yaml", ".yml"))]


@functools.lru_cache(maxsize=None)
def kinds_of(path):
    """The first keys of a file's documents."""
    try:
        with open(path, "rb") as file:
            nodes = editor_yaml.nodes_of(file.read())
    except yaml.YAMLError:
        return set()
    return {node.value[0][0].value for node in nodes if isinstance(node, yaml.MappingNode) and node.value}
