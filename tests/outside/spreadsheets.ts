import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { scratch } from "../cli/cli.ts";

/** A cell as LibreOffice has it: what kind of value, the value as text, and its formula where it took it for one. */
export interface OfficeCell {
  readonly type: string;
  readonly value: string;
  readonly formula: string | null;
  readonly bold: boolean;
}

export interface OfficeSheet {
  readonly rows: readonly (readonly OfficeCell[])[];
  /** Widths of the columns, in points. */
  readonly widths: readonly number[];
}

/** Reads the flat XML that LibreOffice writes. */
const READ_FLAT_XML = `
import json, sys, xml.etree.ElementTree as E
N = dict(office="urn:oasis:names:tc:opendocument:xmlns:office:1.0", table="urn:oasis:names:tc:opendocument:xmlns:table:1.0",
  text="urn:oasis:names:tc:opendocument:xmlns:text:1.0", style="urn:oasis:names:tc:opendocument:xmlns:style:1.0",
  fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0")
q = lambda name: "{%s}%s" % (N[name.split(":")[0]], name.split(":")[1])
POINTS = dict(mm=72 / 25.4, cm=72 / 2.54, pt=1)
POINTS["in"] = 72
def words(e):
  out = e.text or ""
  for c in e:
    if c.tag == q("text:s"): out += " " * int(c.get(q("text:c"), 1))
    elif c.tag == q("text:tab"): out += "\\t"
    elif c.tag == q("text:line-break"): out += "\\n"
    else: out += words(c)
    out += c.tail or ""
  return out
def read(path):
  root = E.parse(path).getroot()
  bold, width = set(), {}
  for s in root.iter(q("style:style")):
    p, c = s.find("style:text-properties", N), s.find("style:table-column-properties", N)
    if p is not None and p.get(q("fo:font-weight")) == "bold": bold.add(s.get(q("style:name")))
    if c is not None:
      w = c.get(q("style:column-width"))
      width[s.get(q("style:name"))] = float(w[:-2]) * POINTS[w[-2:]]
  table, rows, widths = next(root.iter(q("table:table"))), [], []
  for c in table.iter(q("table:table-column")):
    widths += [width[c.get(q("table:style-name"))]] * min(int(c.get(q("table:number-columns-repeated"), 1)), 50)
  for r in table.iter(q("table:table-row")):
    row = []
    for c in r:
      cell = dict(type=c.get(q("office:value-type"), "empty"), formula=c.get(q("table:formula")), bold=c.get(q("table:style-name")) in bold,
        value=c.get(q("office:date-value")) or "\\n".join(words(p) for p in c.findall("text:p", N)))
      row += [cell] * min(int(c.get(q("table:number-columns-repeated"), 1)), 50)
    if any(c["type"] != "empty" for c in row): rows.append(row)
  return dict(rows=rows, widths=widths)
print(json.dumps([read(p) for p in sys.argv[1:]]))`;

/** Reads from the workbook itself what is no value: LibreOffice without a window has no view to keep in sight. */
const READ_PANE = `
import sys, xml.etree.ElementTree as E, zipfile
root = E.fromstring(zipfile.ZipFile(sys.argv[1]).read("xl/worksheets/sheet1.xml"))
panes = [p for p in root.iter("{http://schemas.openxmlformats.org/spreadsheetml/2006/main}pane") if p.get("state") == "frozen"]
print(panes[0].get("ySplit") if panes else 0)`;

/** How many rows at the top of a workbook's first sheet stay in sight. */
export const frozenRowsOf = (path: string): number => Number(execFileSync("python3", ["-c", READ_PANE, path], { encoding: "utf8" }));

/** What the dialog of LibreOffice proposes by itself for a text file that begins with the mark of UTF-8: commas, quotes, UTF-8, from line 1. */
export const AS_CSV = "--infilter=CSV:44,34,76,1";

/** Opens spreadsheet files in LibreOffice and tells what it sees there, in their order. Their names without ending must differ. */
export const openedByOffice = (paths: readonly string[], ...options: readonly string[]): readonly OfficeSheet[] => {
  const folder = scratch();
  const profile = pathToFileURL(join(folder, "profile")).href;
  const how = [`-env:UserInstallation=${profile}`, "--headless", ...options, "--convert-to", "fods", "--outdir", folder];
  execFileSync("soffice", [...how, ...paths], { stdio: "pipe" });
  const flat = paths.map((path) => join(folder, `${path.replace(/^.*\//, "").replace(/\.\w+$/, "")}.fods`));
  const read = execFileSync("python3", ["-c", READ_FLAT_XML, ...flat], { encoding: "utf8", maxBuffer: 64 * 1024 * 1024 });
  return JSON.parse(read) as readonly OfficeSheet[];
};
