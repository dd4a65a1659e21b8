/** One sheet for screen, telephone and paper; black on white, no colour that says something alone. */
export const STYLE = `
body { overflow-wrap: break-word; font: 1rem/1.45 system-ui, sans-serif; color: #1d2126; background: #fff; max-width: 52rem; margin: 0 auto; padding: 1rem; }
h1 { font-size: 1.35rem; } h2 { font-size: 1.15rem; margin-top: 2rem; border-bottom: 1px solid #1d2126; }
h3 { font-size: 1rem; margin: 1rem 0 .25rem; } h4 { font-size: .95rem; margin: .5rem 0 0; font-weight: normal; text-decoration: underline; }
a { color: inherit; text-decoration-color: #b9bec4; text-underline-offset: .15em; } :target { outline: 2px solid #0b4f5c; outline-offset: 4px; }
p { margin: .25rem 0; } address { font-style: normal; margin: .75rem 0; } .quiet { color: #565d66; }
table { width: 100%; border-collapse: collapse; margin: .5rem 0; } th, td { text-align: left; vertical-align: top; padding: .25rem .5rem .25rem 0; border-bottom: 1px solid #b9bec4; overflow-wrap: break-word; } .date { white-space: nowrap; }
dl { margin: .25rem 0; } dt { font-weight: 600; } dd { margin: 0 0 .35rem; overflow-wrap: break-word; }
dl.facts > div { display: inline; } dl.facts dt, dl.facts dd { display: inline; } dl.facts dt { font-weight: normal; } dl.facts dd { font-weight: 600; } dl.facts dd.ref { font-weight: normal; font-size: .8rem; color: #565d66; } dl.facts > div:not(:last-child)::after { content: "; "; }
.signed { margin-top: 3rem; border-top: 1px solid; max-width: 24rem; }
.changed { font-weight: normal; font-size: .85em; border-left: 3px solid #1d2126; padding-left: .4em; }
.drawing { width: 100%; max-width: 30rem; } .drawing.wide { min-width: 36rem; max-width: none; } div:has(> .wide) { overflow-x: auto; } .never { color: #8a1c1c; } .protection { border-bottom: 1px solid #b9bec4; padding-bottom: .5rem; }
.strip { display: flex; width: 12rem; height: .6rem; gap: 1px; } .strip span { flex: 1; border: 1px solid #1d2126; }
.strip .set-point { background: #1d2126; } .strip .running-value, .strip .movement { background: repeating-linear-gradient(45deg, #fff 0 3px, #1d2126 3px 4px); }
@media (max-width: 34rem) { table, thead, tbody, tr, th, td { display: block; } thead { position: absolute; left: -999rem; } tr { padding: .35rem 0; border-bottom: 1px solid #b9bec4; } th, td { border: 0; padding: 0; } }
@media print { body { max-width: none; padding: 0; font-size: 10pt; } section, tr { break-inside: avoid; } h2, h3 { break-after: avoid; } }
`.trim();
