"""What style sheets say that print shows: hidden matter, typeforms, capitals, generated words.

Only the properties of css_text.py are read.  Rules are filed under the rightmost name of their
selector (class, id, element), and the caller asks once for each *kind* of element (see plans.py),
not once for each element; only rules that look at siblings are tried on every element.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

import tinycss2
from cssselect2 import parser as selectors
from cssselect2.compiler import CompiledSelector
from cssselect2.tree import ElementWrapper

from .css_text import Value, bounded, declare_namespace, keep_relevant, read_declarations
from .limits import LIMITS

_INDENTS = frozenset({"text-indent", "padding-left", "margin-left", "padding", "margin"})
_NO_TAGS = frozenset({"br", "img", "hr", "html", "table", "tbody", "tr", "col", "svg"})
_MEDIA = re.compile(r"^\s*(?:all|screen|print|$)", re.IGNORECASE)
MATCH_BUDGET = 2_000_000
TOO_MANY = 11


@dataclass(slots=True)
class Rule:
    """One selector with the declarations kept; ``pseudo`` is before, after or empty.

    The wider test leaves out what looks at siblings: where it fails, the rule cannot fit.  Tests
    are compiled when first asked for, as most rules of a book's sheets fit nothing in it.
    """

    selector: Any
    weight: tuple[Any, ...]
    pseudo: str
    declarations: dict[str, tuple[Value, bool]]
    positional: bool
    tests: dict[bool, Callable[[Any], bool]] = field(default_factory=dict)

    def test(self, wider: bool) -> Callable[[Any], bool]:
        """The test of the selector, or the wider one."""
        if wider not in self.tests:
            selector = self.selector
            if wider and self.positional:
                selector = selectors.Selector(_widened(selector.parsed_tree))
            self.tests[wider] = CompiledSelector(selector).test
        return self.tests[wider]


@dataclass(slots=True)
class Sheets:
    """The rules of some style sheets, filed by the rightmost name of the selector.

    ``attributes`` are those a selector looks at (true where the value matters), ``idents`` the ids.
    """

    filed: dict[str, list[Rule]] = field(default_factory=dict)
    attributes: dict[str, bool] = field(default_factory=dict)
    idents: set[str] = field(default_factory=set)
    wrapped: dict[Any, Any] = field(default_factory=dict)
    count: int = 0
    budget: int = MATCH_BUDGET
    trouble: set[str] = field(default_factory=set)

    def add(self, text: str) -> None:
        """Read a style sheet; what breaks a limit or cannot be read is noted in ``trouble``."""
        rules = tinycss2.parse_stylesheet(
            bounded(keep_relevant(text)), skip_comments=True, skip_whitespace=True
        )
        self._add_rules(rules, {})

    def _add_rules(self, rules: Iterable[Any], spaces: dict[str | None, str]) -> None:
        stack = [iter(rules)]
        while stack:
            node = next(stack[-1], None)
            if node is None:
                stack.pop()
            elif node.type == "at-rule":
                if node.lower_at_keyword == "namespace":
                    declare_namespace(node.prelude, spaces)
                elif node.lower_at_keyword == "media" and node.content is not None:
                    media = _shown(node.prelude)
                    if _MEDIA.match(media) and "(" not in media and len(stack) < 5:
                        inner = tinycss2.parse_rule_list(node.content, skip_comments=True)
                        stack.append(iter(inner))
            elif node.type == "qualified-rule":
                self.count += 1
                if self.count > LIMITS.css_rules:
                    self.trouble.add("rules")
                    return
                self._add_rule(node, spaces)

    def _add_rule(self, node: Any, spaces: dict[str | None, str]) -> None:
        declarations = read_declarations(node.content)
        if not declarations:
            return
        if sum(1 for _ in node.prelude) > LIMITS.css_selector:
            self.trouble.add("selector")
            return
        try:
            for selector in selectors.parse(node.prelude, spaces):
                self._file(selector, declarations)
        except (selectors.SelectorError, RecursionError, ValueError):
            return

    def _file(self, selector: Any, declarations: dict[str, tuple[Value, bool]]) -> None:
        """File one selector of a rule, compiled once it is known to matter."""
        pseudo = selector.pseudo_element or ""
        tree = selector.parsed_tree
        key = _file_key(tree)
        if pseudo not in ("", "before", "after") or key in _NO_TAGS:
            return
        attributes: dict[str, bool] = {}
        idents: set[str] = set()
        positional, compounds = _look_into(tree, attributes, idents)
        if compounds >= TOO_MANY:
            self.trouble.add("selector")
            return
        kept = _fitting(declarations, pseudo, positional)
        if kept:
            self.idents |= idents
            for name, by_value in attributes.items():
                self.attributes[name] = by_value or self.attributes.get(name, False)
            weight = (*selector.specificity, self.count)
            rule = Rule(selector, weight, pseudo, kept, positional)
            self.filed.setdefault(key, []).append(rule)

    def candidates(self, tag: str, classes: str, ident: str) -> list[Rule]:
        """Rules whose rightmost part could fit an element of this name, classes and id."""
        filed = self.filed
        found = [*filed.get(tag, ()), *filed.get("*", ())]
        for word in classes.split():
            found += filed.get("." + word, ())
        if ident:
            found += filed.get("#" + ident, ())
        return found

    def holds(self, rule: Rule, element: Any, wider: bool = False) -> bool:
        """Whether a rule fits an element; never more than the budget of tests in all."""
        self.budget -= 1
        if self.budget < 0:
            self.trouble.add("budget")
            return False
        try:
            return bool(rule.test(wider)(self._wrap(element)))
        except (RecursionError, SyntaxError, ValueError, AttributeError, TypeError):
            self.trouble.add("selector")
            return False

    def _wrap(self, element: Any) -> Any:
        """What the tests work on; the wrappers of ancestors are kept, as siblings share them."""
        above = element.getparent()
        if above is None:
            return _Wrap(element, None)
        parent = self.wrapped.get(above)
        if parent is None:
            if len(self.wrapped) > 5_000:
                self.wrapped.clear()
            chain = [above, *above.iterancestors()]
            for each in reversed(chain):
                known = self.wrapped.get(each)
                if known is None:
                    known = self.wrapped[each] = _Wrap(each, parent)
                parent = known
        return _Wrap(element, parent)


def cascade(
    rules: list[Rule], inline: dict[str, tuple[Value, bool]]
) -> dict[str, dict[str, Value]]:
    """The declarations that win, for the element ("") and its generated content."""
    won: dict[str, dict[str, tuple[tuple[Any, ...], Value]]] = {"": {}, "before": {}, "after": {}}
    rows = [(r.pseudo, r.weight, name, v) for r in rules for name, v in r.declarations.items()]
    rows += [("", (9, 0, 0, 0), name, v) for name, v in inline.items()]
    for pseudo, weight, name, (value, important) in rows:
        rank = (important, *weight)
        if name not in won[pseudo] or won[pseudo][name][0] <= rank:
            won[pseudo][name] = (rank, value)
    return {p: {name: value for name, (_, value) in got.items()} for p, got in won.items()}


# What is kept of generated content: its words, whether it shows, and its letters.
_GENERATED = ("content", "display", "counter-", "font-", "text-", "vertical-align")


def _fitting(
    declarations: dict[str, tuple[Value, bool]], pseudo: str, positional: bool
) -> dict[str, tuple[Value, bool]]:
    if pseudo:
        kept = {k: v for k, v in declarations.items() if k.startswith(_GENERATED)}
        return {} if positional and not kept.get("content", ("", False))[0] else kept
    kept = {k: v for k, v in declarations.items() if k != "content"}
    if positional:
        kept = {k: v for k, v in kept.items() if k not in _INDENTS and _matters(k, str(v[0]))}
    return kept


def _matters(name: str, value: str) -> bool:
    """Whether a value says anything of a single element that its kind does not."""
    if name == "white-space":
        return value.startswith("pre")
    if name == "vertical-align":
        return value in ("super", "sub")
    return name != "display" or value in ("none", "block", "inline")


def _look_into(tree: Any, attributes: dict[str, bool], idents: set[str]) -> tuple[bool, int]:
    """Collect the attributes a selector looks at.

    Tells whether it looks at positions, and how many compounds it has.
    """
    positional = False
    compounds = 0
    stack = [tree]
    while stack:
        node = stack.pop()
        if isinstance(node, selectors.CombinedSelector):
            positional |= node.combinator in ("+", "~")
            stack += [node.left, node.right]
        elif isinstance(node, selectors.CompoundSelector):
            compounds += 1
            stack += node.simple_selectors
        elif isinstance(node, selectors.IDSelector):
            idents.add(str(node.ident))
        elif isinstance(node, selectors.AttributeSelector):
            space = f"{{{node.namespace}}}" if node.namespace else ""
            name = f"{space}{node.name}"
            attributes[name] = attributes.get(name, False) or node.operator is not None
        elif hasattr(node, "selector_list"):
            if isinstance(node, selectors.RelationalSelector):
                compounds += TOO_MANY  # looks at every element below: time without bound
            stack += [
                getattr(s, "parsed_tree", None) or s.selector.parsed_tree
                for s in node.selector_list
            ]
        elif isinstance(
            node, selectors.PseudoClassSelector | selectors.FunctionalPseudoClassSelector
        ):
            positional = True
    return positional, compounds


def _widened(tree: Any) -> Any:
    """A selector tree without siblings and positions; at most ten compounds deep."""
    if isinstance(tree, selectors.CombinedSelector):
        right = _widened(tree.right)
        left = tree.left
        if tree.combinator not in ("+", "~"):
            return selectors.CombinedSelector(_widened(left), tree.combinator, right)
        while isinstance(left, selectors.CombinedSelector) and left.combinator in ("+", "~"):
            left = left.left
        if isinstance(left, selectors.CombinedSelector):
            return selectors.CombinedSelector(_widened(left.left), left.combinator, right)
        return right
    kept = [
        part
        for part in tree.simple_selectors
        if isinstance(
            part,
            selectors.LocalNameSelector
            | selectors.NamespaceSelector
            | selectors.IDSelector
            | selectors.ClassSelector
            | selectors.AttributeSelector,
        )
    ]
    return selectors.CompoundSelector(kept)


def _shown(tokens: Any) -> str:
    """Tokens as text; a bracket, which no plain query has, where they nest beyond sense."""
    try:
        text: str = tinycss2.serialize(tokens)
    except RecursionError:
        return "("
    return text


def _file_key(tree: Any) -> str:
    while isinstance(tree, selectors.CombinedSelector):
        tree = tree.right
    key = "*"
    for part in tree.simple_selectors:
        if isinstance(part, selectors.IDSelector):
            return "#" + str(part.ident)
        if isinstance(part, selectors.ClassSelector):
            key = "." + str(part.class_name)
        elif isinstance(part, selectors.LocalNameSelector) and not key.startswith("."):
            key = str(part.lower_local_name)
    return key


class _Wrap(ElementWrapper):  # type: ignore[misc]
    """An element for the selector tests, whose neighbours are looked up only when asked for."""

    def __init__(self, element: Any, parent: Any) -> None:
        self.etree_element = element
        self.parent = parent
        self.in_html_document = False
        self.transport_content_language = None
        self._ancestors = None
        self._previous_siblings = None

    @property
    def previous(self) -> Any:
        before = self.etree_element.getprevious()
        return None if before is None else _Wrap(before, self.parent)

    @property
    def etree_siblings(self) -> list[Any]:
        above = self.etree_element.getparent()
        return [self.etree_element] if above is None else list(above)

    @property
    def index(self) -> int:
        above = self.etree_element.getparent()
        return 0 if above is None else above.index(self.etree_element)
