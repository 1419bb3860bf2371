"""Makes the tables of tests/cases/spreadsheets/made again, with LibreOffice Calc.

    python3 tests/support/spreadsheets.py        (with soffice on the path)

The folder's README says what is in them. They are committed, so that no check needs LibreOffice.
"""

from __future__ import annotations

import csv
import re
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import NamedTuple

CASES = Path(__file__).parents[1] / "cases" / "spreadsheets"
PLAIN, MADE = CASES / "plain", CASES / "made"


class Locale(NamedTuple):
    """How a country writes: separator of its CSV files, decimal mark, money, and days in figures.

    ``code`` is the language's number in the options of Calc's filter for text.
    """

    code: int
    separator: str
    decimal: str
    sign: str
    day: str


LOCALES = {
    "en-US": Locale(1033, ",", ".", "$", "m/d/y"), "en-GB": Locale(2057, ",", ".", "£", "d/m/y"),
    "de-DE": Locale(1031, ";", ",", "€", "d.m.y"),
}  # fmt: skip
_PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse">\
<value>{name}</value></prop></item>
</oor:items>
"""
# Separator, double quotes, UTF-8, from line 1, language, no text forced, special numbers recognized.
_READ = "CSV:{separator},34,76,1,,{code},false,true"
# The same, and the last: as shown on the screen, which is what Calc proposes.
_WRITE = "csv:Text - txt - csv (StarCalc):{separator},34,76,1,,0,false,true,true"


def main() -> None:
    """Every locale, both kinds of file."""
    shutil.rmtree(MADE, ignore_errors=True)
    for name, locale in LOCALES.items():
        with tempfile.TemporaryDirectory() as scratch:
            _make(name, locale, Path(scratch), MADE / name)


def _make(name: str, locale: Locale, scratch: Path, out: Path) -> None:
    profile = scratch / "profile" / "user"
    profile.mkdir(parents=True)
    (profile / "registrymodifications.xcu").write_text(_PROFILE.format(name=name), encoding="utf-8")
    shown = scratch / "shown.fods"
    shown.write_text(sheet(name, locale), encoding="utf-8")
    tables = [_typed(path, locale, scratch) for path in sorted((PLAIN / "tables").glob("*.csv"))]
    options = {"separator": ord(locale.separator), "code": locale.code}
    for kind in ("xlsx", _WRITE.format(**options)):
        _soffice(scratch, out, kind, [shown])
        _soffice(scratch, out, kind, tables, f"--infilter={_READ.format(**options)}")


def _typed(path: Path, locale: Locale, scratch: Path) -> Path:
    """A plain table as somebody of that country would have typed it."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = [[typed(cell, locale) for cell in row] for row in csv.reader(file)]
    made = scratch / path.name
    with made.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, delimiter=locale.separator).writerows(rows)
    return made


def typed(cell: str, locale: Locale) -> str:
    """A cell with the country's decimal mark, and its order of a day in figures."""
    day = re.fullmatch(r"(?P<d>\d\d)/(?P<m>\d\d)/(?P<y>\d{4})", cell)
    if day:
        return re.sub("[dmy]", lambda part: day[part[0]], locale.day)
    return re.sub(r"^(\d+)\.(\d+)(?= |$)", rf"\1{locale.decimal}\2", cell)


def _soffice(scratch: Path, out: Path, kind: str, files: list[Path], *options: str) -> None:
    profile = f"-env:UserInstallation={(scratch / 'profile').as_uri()}"
    subprocess.run(["soffice", profile, "--headless", *options, "--convert-to", kind, "--outdir", str(out),
                    *map(str, files)], check=True)  # fmt: skip


# -- a sheet with every kind of cell ---------------------------------------------------------

_SPACES = ("office", "style", "text", "table", "number", "fo")
_NAMES = " ".join(
    f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{long}:1.0"'
    for name, long in zip(_SPACES, ("office", "style", "text", "table", "datastyle", "xsl-fo-compatible"), strict=True)
) + ' xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2"'
_PARTS = {"d": '<number:day number:style="long"/>', "m": '<number:month number:style="long"/>',
          "y": '<number:year number:style="long"/>'}  # fmt: skip
HEAD = ("key", "price", "mass", "height", "share_notes", "date", "sum", "error")


def sheet(name: str, locale: Locale) -> str:
    """A flat ODS document whose cells carry the formats of a country."""
    language, country = name.split("-")
    day = "".join(_PARTS.get(part, f"<number:text>{part}</number:text>") for part in locale.day)
    styles = {
        "money": f'<number:currency-style style:name="N-money" number:language="{language}" number:country="{country}">'
                 f'<number:currency-symbol number:language="{language}" number:country="{country}">{locale.sign}'
                 '</number:currency-symbol><number:number number:decimal-places="2" number:min-decimal-places="2" '
                 'number:min-integer-digits="1"/></number:currency-style>',
        "grams": '<number:number-style style:name="N-grams"><number:number number:decimal-places="0" '
                 'number:min-integer-digits="1"/><number:text> g</number:text></number:number-style>',
        "tenths": '<number:number-style style:name="N-tenths"><number:number number:decimal-places="1" '
                  'number:min-decimal-places="1" number:min-integer-digits="1"/></number:number-style>',
        "percent": '<number:percentage-style style:name="N-percent"><number:number number:decimal-places="0" '
                   'number:min-integer-digits="1"/><number:text>%</number:text></number:percentage-style>',
        "day": f'<number:date-style style:name="N-day" number:language="{language}" number:country="{country}">{day}'
               "</number:date-style>",
    }  # fmt: skip
    made = "".join(f'{text}<style:style style:name="{key}" style:family="table-cell" style:data-style-name="N-{key}"/>'
                   for key, text in styles.items())  # fmt: skip
    return (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document {_NAMES} office:version="1.2" '
        'office:mimetype="application/vnd.oasis.opendocument.spreadsheet">'
        f"<office:automatic-styles>{made}</office:automatic-styles><office:body><office:spreadsheet>"
        f'<table:table table:name="Shown">{_rows()}</table:table>'
        "</office:spreadsheet></office:body></office:document>"
    )


def _rows() -> str:
    text = ['<table:table-cell office:value-type="string"><text:p>{}</text:p></table:table-cell>'.format]
    head = "".join(text[0](name) for name in HEAD)
    cells = (
        text[0]("plain"), _number(1.5, "money", "currency"), _number(520, "grams"),
        _number(12.500000000001, "tenths"), _number(0.25, "percent", "percentage"),
        '<table:table-cell table:style-name="day" office:value-type="date" office:date-value="2026-11-03"/>',
        '<table:table-cell table:formula="of:=0.1+0.2" office:value-type="float" office:value="0"/>',
        '<table:table-cell table:formula="of:=NA()" office:value-type="string"/>',
    )  # fmt: skip
    return f"<table:table-row>{head}</table:table-row><table:table-row>{''.join(cells)}</table:table-row>"


def _number(value: float, style: str, kind: str = "float") -> str:
    return f'<table:table-cell table:style-name="{style}" office:value-type="{kind}" office:value="{value!r}"/>'


if __name__ == "__main__":
    main()
