# SPDX-License-Identifier: MIT
"""The long patterns of docs/schemas, put together from pieces that can be read (docs/files.md, "Expressions").

JSON Schema has no way to name a piece of a pattern, so that the schemas hold the whole; check_schemas.py compares.
A pattern does not count: it lets a parenthesis pass that is left open. `python3 patterns.py` prints all of them."""

LETTER = r"[\w.+~:-]"
NAME = r"[A-Za-z0-9][A-Za-z0-9._+~:-]*"
NO_KEYWORD = rf"(?!(?:and|or|if)(?!{LETTER}))"
WORD = rf"{NO_KEYWORD}{NAME}(?!{LETTER})"
OPERATOR = r"(?:[<>!]=|[<=>])"
JOINT = rf"(?:,|(?:and|or|if)(?!{LETTER}))"
COMPARISON = rf"{OPERATOR}\s*{WORD}"
NAMED_ATOM = rf"{WORD}(?:\s+{WORD})?(?:\s*{COMPARISON})?"
RELEASE_ATOM = rf"(?:{COMPARISON}|{NAMED_ATOM})"
AND = rf"(?:,|and(?!{LETTER}))"
# In front of a comparison the attribute's own name may stand: cores >= 12, cores < 20
WANTED_NUMBER = rf"(?:(?:(?:{WORD}\s*)?{OPERATOR}\s*)?[0-9]{LETTER}*)"
WANTED_TEXT = rf"(?:(?:(?:{WORD}\s*)?!?=\s*)?{WORD})"
WANTED_VERSION = rf"(?:(?:(?:{WORD}\s*)?{OPERATOR}\s*)?{WORD})"


def chain(atom, joint):
    return rf"[(\s]*{atom}[)\s]*(?:{joint}[(\s]*{atom}[)\s]*)*"


def name_but(*words):
    return rf"^(?!(?:{'|'.join(words)})$){NAME}$"


RESERVED = ("unknown", "empty", "and", "or", "if", "board")

PATTERNS = {
    "name": name_but(*RESERVED),
    "name-or-empty": name_but(*(word for word in RESERVED if word != "empty")),
    "names": name_but(*RESERVED),
    "expression": rf"^{chain(NAMED_ATOM, JOINT)}$",
    # The name of the one component that it is about may be left out: >= 1.4.0, < 2.0
    "releases": rf"^{chain(RELEASE_ATOM, JOINT)}$",
    # Of a unit: also a range, ends included: 1.0 .. 1.4
    "possible-releases": rf"^(?!(?:empty|board)$)(?:{chain(RELEASE_ATOM, JOINT)}|\s*{NAME}\s* [.][.] \s*{NAME}\s*)$",
    # Of a want: a value, or comparisons that all have to hold
    "wanted-number": rf"^{chain(WANTED_NUMBER, AND)}$",
    "wanted-text": rf"^{chain(WANTED_TEXT, AND)}$",  # text has no order
    "wanted-version": rf"^{chain(WANTED_VERSION, AND)}$",
    "provided": rf"^[(\s]*{WORD}(?:\s+{WORD})?(?:\s*=\s*{WORD})?[)\s]*$",
    "dotted": r"^[0-9]+(?:[.][0-9]+)*$",
    # source: Semantic Versioning 2.0.0, the expression in its answers to questions, without names for its groups
    "semver": r"^(?:0|[1-9]\d*)\.(?:0|[1-9]\d*)\.(?:0|[1-9]\d*)"
              r"(?:-(?:0|[1-9]\d*|\d*[a-zA-Z-][0-9a-zA-Z-]*)(?:\.(?:0|[1-9]\d*|\d*[a-zA-Z-][0-9a-zA-Z-]*))*)?"
              r"(?:\+[0-9a-zA-Z-]+(?:\.[0-9a-zA-Z-]+)*)?$",
    "debian": r"^[0-9][A-Za-z0-9.+~:-]*$",
}

if __name__ == "__main__":
    import json
    for name, pattern in PATTERNS.items():
        print(f"{name}: {json.dumps(pattern)}")
