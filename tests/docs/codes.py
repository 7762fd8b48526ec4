"""Pages of the codes and of the sources, from the rule files."""

from __future__ import annotations

from typing import Any

from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.raw import raw_code
from tempwitness.rulebook.sources import load_sources
from tempwitness.rulebook.words import CONFIRMED_WORDS, stage_words, test_words, when_words
from tests.docs.comparison import comparison_links
from tests.docs.tables import table

Table = dict[str, Any]


def codes_page() -> str:
    """Return the list of codes."""
    rows = []
    for code_id in code_ids():
        code = raw_code(code_id)
        head = code["head"]
        count = str(len(code["requirements"]))
        weights = ", ".join(sorted({r["weight"] for r in code["requirements"]}))
        link = f"[`{code_id}`](codes/{_file(code_id)})"
        rows.append((link, head["title"], head["edition"], head["issuer"], count, weights))
    return (
        "# Codes\n\nA record names one of these ids under `code`, and others beside it under "
        "`also`. Only requirements of weight `law` decide the answer.\n\n"
        f"{comparison_links()}\n\n"
        + table(("id", "title", "edition", "issued by", "requirements", "weight"), rows)
    )


def code_pages() -> dict[str, str]:
    """Return one page a code."""
    return {f"codes/{_file(code_id)}": _code_page(code_id) for code_id in code_ids()}


def sources_page() -> str:
    """Return the bibliography."""
    rows = [(f"`{s.key}`", s.issuer, s.title, s.edition, s.read) for s in load_sources().values()]
    return (
        "# Sources\n\nEvery requirement names one or more of these keys. The last column says how "
        "the text was read: what was not read itself is not called confirmed.\n\n"
        + table(("key", "issued by", "title", "edition", "how it was read"), rows)
    )


def _file(code_id: str) -> str:
    return f"{code_id.replace('/', '-')}.md"


def _code_page(code_id: str) -> str:
    code = raw_code(code_id)
    head = code["head"]
    parts = [
        f"# {head['title']}, {head['edition']}\n",
        f"Id `{code_id}`. Issued by {head['issuer']}.\n",
        f"{head['authority']}\n",
    ]
    if "note" in head:
        parts.append(f"{head['note']}\n")
    parts.append(table(("requirement", "stages", "section", "weight"), _overview(code)))
    parts += [_requirement(r) for r in code["requirements"]]
    return "\n".join(parts)


def _overview(code: Table) -> list[tuple[str, ...]]:
    return [
        (
            f"[{r['title']}](#{r['id']})",
            stage_words(r.get("stages", [])),
            r["section"],
            r["weight"],
        )
        for r in code["requirements"]
    ]


def _requirement(requirement: Table) -> str:
    lines = [
        f"## {requirement['id']}\n",
        f"**{requirement['title']}** ({requirement['section']}; {requirement['weight']})\n",
        f"- stages: {stage_words(requirement.get('stages', []))}",
        f"- asks: {test_words(requirement['test'])}",
        *(f"- applies: {phrase}" for phrase in when_words(requirement.get("when", {}))),
        *(_alternative(other) for other in requirement.get("alternatives", [])),
        *(
            f"- {label}: {requirement[key]}"
            for label, key in (("why", "why"), ("note", "note"), ("to ask", "question"))
            if requirement.get(key)
        ),
        f"- confirmed: {CONFIRMED_WORDS[requirement['confirmed']]}",
        f"- sources: {', '.join(f'`{key}`' for key in requirement['source'])}",
        f"- written in: `{requirement['file']}`\n",
    ]
    return "\n".join(lines)


def _alternative(other: Table) -> str:
    phrases = [test_words(other["test"]), *when_words(other.get("when", {}))]
    for key, word in (("requires", "all of"), ("requires_any", "any of")):
        if other.get(key):
            phrases.append(f"{word} these met: {', '.join(other[key])}")
    return f"- or {other['title']} [{other['section']}]: {'; '.join(phrases)}"
