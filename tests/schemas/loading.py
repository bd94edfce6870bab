# SPDX-License-Identifier: MIT
"""Has the program read files, each together with what it needs beside it, and tells what came of it."""

import concurrent.futures
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
        parts = [lists[start:start + RUNS_AT_ONCE] for start in range(0, len(lists), RUNS_AT_ONCE)]
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            answers = [answer for part in pool.map(self.runs_of_one, parts) for answer in part]
        assert len(answers) == len(lists)
        return answers

    def runs_of_one(self, lists):
        """runs() by one process."""
        lines = "".join("\t".join(one) + "\n" for one in lists)
        told = subprocess.run([self.program], input=lines, text=True, stdout=subprocess.PIPE, check=True)
        return [json.loads(line) for line in told.stdout.splitlines()]

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
        alone. Those of a malformed file are named in it; for others the books that have its boards and the units near it
        are tried, one set of companions after the other."""
        for path in paths:
            self.beside[path] = base_of(path) if is_malformed(path) else []
        found = dict(zip(paths, self.runs([self.beside[path] + [path] for path in paths])))
        left = {path: iter(self.companions(path)) for path in paths
                if not is_malformed(path) and not accepted(found[path], path)}
        while left:
            tries = [(path, one) for path, more in left.items() for one in [next(more, None)] if one]
            left = {path: left[path] for path, _ in tries}
            for (path, companions), run in zip(tries, self.runs([one + [path] for path, one in tries])):
                if not run["complaints"]:
                    self.beside[path], found[path] = companions, run
                    del left[path]
        return found

    def companions(self, path):
        """Lists of files to read a file with, the likeliest first."""
        boards = boards_of(path)
        books = [book for book in self.all_books(path) if boards <= boards_defined(book)]
        near = os.path.dirname(os.path.dirname(path))
        folders = [os.path.dirname(path)] + ([] if near in ("tests", "") else [near])
        units = [one for folder in folders for one in yaml_files(folder) if "unit" in kinds_of(one)]
        if kinds_of(path) & {"record", "seen"}:  # they name theirs
            units = [one for one in units if unit_ids(one) & unit_ids(path)]
        units.sort(key=lambda one: -alike(one, path))
        with_units = [book + [unit] for unit in units
                      for book in sorted(self.all_books(unit), key=lambda book: -alike(book[0], path))
                      if boards | boards_of(unit) <= boards_defined(book)]
        if needs_unit(path):
            books = []
        return [one for one in books + with_units if path not in one]

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
def documents_of(path):
    """A file's documents as maps of nodes by key, each with its first key."""
    try:
        with open(path, "rb") as file:
            nodes = editor_yaml.nodes_of(file.read())
    except yaml.YAMLError:
        return []
    return [(node.value[0][0].value, {key.value: value for key, value in node.value})
            for node in nodes if isinstance(node, yaml.MappingNode) and node.value]


def kinds_of(path):
    """The first keys of a file's documents."""
    return {kind for kind, _ in documents_of(path)}


def values_of(path, key, kinds):
    """What a key of a file's documents of these kinds says."""
    return {keys[key].value for kind, keys in documents_of(path)
            if kind in kinds and isinstance(keys.get(key), yaml.ScalarNode)}


def boards_of(path):
    """The boards that a file's units and wants name, but for those that it defines."""
    return values_of(path, "board", {"unit", "want"}) - boards_defined((path,))


def needs_unit(path):
    """Whether it speaks of a unit that another file has."""
    return bool(kinds_of(path) & {"route", "record", "seen"}) and "unit" not in kinds_of(path)


def alike(left, right):
    """How many letters the names of two files begin with in common."""
    return len(os.path.commonprefix([os.path.basename(left), os.path.basename(right)]))


def unit_ids(path):
    return values_of(path, "unit", {"unit", "record", "seen"})


def boards_defined(paths):
    """The boards of books."""
    return boards_in(tuple(paths))


@functools.lru_cache(maxsize=None)
def boards_in(paths):
    lists = [keys["boards"] for path in paths for one in ([path] if os.path.isfile(path) else yaml_files(path))
             for kind, keys in documents_of(one) if kind == "book" and "boards" in keys]
    return {value.value for each in lists if isinstance(each, yaml.SequenceNode) for board in each.value
            if isinstance(board, yaml.MappingNode) for key, value in board.value if key.value == "board"}
