// What the printed pages share: style, escaped text, and the frame of a page that needs nothing from elsewhere.

export const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

/** Rows of a table, the name in front. */
export const rowsOf = (pairs: readonly (readonly [string, string])[]): string =>
  pairs.map(([name, value]) => `<tr><th>${escaped(name)}</th><td>${escaped(value)}</td></tr>`).join('\n');

const STYLE = `
@page { margin: 12mm }
* { box-sizing: border-box }
body { font: 10pt/1.35 system-ui, sans-serif; color: #111; max-width: 186mm; margin: 0 auto; padding: 4mm }
h1 { font-size: 15pt; margin: 0 0 2mm; border-bottom: 1.5pt solid #111 }
h2 { font-size: 11pt; margin: 4mm 0 1mm }
table { border-collapse: collapse; width: 100% }
th, td { text-align: left; vertical-align: top; padding: 0.4mm 2mm 0.4mm 0; overflow-wrap: anywhere }
th { width: 34mm; font-weight: 600 }
.grid th, .grid td { border-bottom: 0.4pt solid #bbb; width: auto }
.halves { display: grid; grid-template-columns: 9fr 10fr; gap: 0 5mm; align-items: start; font-size: 9pt }
.halves .grid { font-size: 8.5pt; line-height: 1.2 }
.halves .grid td { white-space: nowrap }
.halves th { width: 24mm }
.halves .grid th { width: auto }
.halves h2:first-child { margin-top: 1mm }
.thirds { display: grid; grid-template-columns: repeat(3, 1fr); gap: 0 2mm }
.notices { columns: 2; column-gap: 6mm; font-size: 8pt }
.notices p { margin: 0 0 1mm; break-inside: avoid }
@media screen and (max-width: 640px) {
  .halves, .thirds { grid-template-columns: 1fr }
  .halves .grid { font-size: 7.5pt }
  .notices { columns: 1 }
}
.number { text-align: right; white-space: nowrap }
svg { width: 100%; height: auto; break-inside: avoid; display: block; margin: 1mm 0 }
svg text { font: 11px system-ui, sans-serif; fill: #222 }
svg .title { font-weight: 600 }
svg .rule { stroke: #ddd }
.cautions { border: 1pt solid #111; padding: 2mm; margin-top: 4mm; font-size: 8.5pt; break-inside: avoid }
.tampered { border: 2pt solid #a00; padding: 2mm; color: #a00 }
`;

/** A page for A4 and Letter. @param body is HTML; the title is plain text. */
export const page = (title: string, body: string): string => `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${escaped(title)}</title><style>${STYLE}</style></head>
<body>${body}
</body></html>
`;
