"""tools/runtime/idle.py: what nobody calls goes out of a script, and nothing else."""

import pytest

from tools.runtime.idle import without_idle

IDLE = {
    "a function": "function f(a,$b){return{a,b:'}'}}",
    "one that waits": "async function f(){await 1}",
    "a variable": "var f=(a,b)=>{if(a){b()}};",
    "a variable of one argument": "var f=async a=>{a()};",
    "a variable with a function": "var f=function(a){a()};",
    "another name": "var f=Math.log;",
    "an arrow and its value": "var f=(...args)=>FS.open(...args);",
}
KEPT = {
    "called": "function f(){}f();",
    "called by what stays": "function f(){}use(()=>f);",
    "a list of variables": "var f=a=>a,g=2;use(g);",
    "a list after a body": "var f=a=>{},g=2;use(g);",
    "a value that is worked out": "var f=start();",
    "an expression that goes for a pattern": "function f(a){return/[}]/.test(a)}",
    "a text with places": "function f(a){return`}${a}`}",
}


@pytest.mark.parametrize("what", IDLE)
def test_what_nobody_calls_goes(what):
    """All of it, and what stands around it stays."""
    assert without_idle(f"use();{IDLE[what]}use();") == "use();use();"


@pytest.mark.parametrize("what", KEPT)
def test_what_is_not_certain_stays(what):
    """What is called, what has something beside it, and what would need a parser."""
    script = f"use();{KEPT[what]}use();"
    assert without_idle(script) == script


def test_what_only_idle_functions_called_goes_too():
    """Function by function."""
    assert without_idle(";function f(){g()}var g=()=>{h()};function h(){}use();") == ";use();"
