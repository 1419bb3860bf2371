"""Texts that look like something else to whatever reads a page, its front matter, a table or a booklet.

Each is no longer than a name may be. What would run if it were taken for a script sets ``window.ran``.
"""

from __future__ import annotations

MARK = "qz"  # no word of ours: told apart from everything that a page says itself
_TEXTS = (
    "<script>window.ran=1</script>", "</script><script>window.ran=1</script>", "<!--<script> --> ]]> <?x?>",
    "</title><h1>x</h1>", '"><img src=x onerror=window.ran=1>', "' onload='window.ran=1' x='",
    "<style>*{display:none}</style>", "</style></svg></textarea></option>", "<svg onload=window.ran=1>", "<b>x</b>",
    "---", "... a: b", "a: b # c", "\"quoted\" 'single' “typed”", "&anchor *alias !!python/object:x {a: [b]}", "%TAG ! tag:x",
    "::: danger", ":::", "{{rule space.rear_gap}} {{data company.name}} {{ x", "{% raw %} {{ config }} {# x #}",
    "[x](javascript:window.ran=1)", "![x](https://a.example/x.png)", "[^1] [ref][] <https://a.example> ^1^",
    "&amp; &lt;b&gt; &#60; &nbsp;", "C:\\new\\table \\* \\_ \\", "a | b || c", "# heading", "## x {#id .class}", "{: #id onclick=x }",
    "=1+1", "+1", "-1-x", "@SUM(A1)", "'=1", "#import \"x\": *", "$ x $ #let y = [z] @ref <lab>", "*strong* _em_ `code` ~~x~~ ==x==",
    "1. one", "- one", "> quote", ": definition", "``` fence", "=====", "*[abbr]: x", "\u200fשלום\u200f (x)", "عربي – x", "👩\u200d🔧 é ß ﬁ",
    "__config", "constructor", "hb-fit-facts", "javascript:window.ran=1", "%3Cscript%3E", "$& $1 \\1 \\g<0>", "CON.", "x" * 74,
)  # fmt: skip
# A sign may mean something at the beginning of a text or at its end.
TEXTS = tuple(f"{text} {MARK}" for text in _TEXTS) + tuple(f"{MARK} {text}" for text in ("#", "\\", ":", "{#id}", "{", "`", "<", "&", "|"))
LONGEST = 80

CALM = f"calm {MARK}"  # means nothing to anybody
