// Models on lines one below the other, the error running across; a session that two neighbours were
// carried in is joined from line to line, so that what moved both leans alike.
/* global d3 */
import { INK, PAPER, QUIET, RULE, canvas, clear, decimalsOf, fitted, line, mark, series, signed, words } from "./chart-base.js";

const NARROW = 640;

export function headtohead(data, width) {
  const narrow = width < NARROW;
  const row = narrow ? 112 : 96;
  const names = narrow ? 0 : Math.min(300, 24 + 8 * Math.max(...data.lines.map((l) => Math.max(l.name.length, l.label.length))));
  const margin = { top: 52, right: 14, bottom: 36, left: 10 + names };
  const height = margin.top + row * data.lines.length + margin.bottom;
  const bottom = height - margin.bottom;
  const svg = canvas(width, height);
  const values = data.marks.map((m) => Math.abs(m.percent));
  for (const l of data.lines) for (const v of [l.mean, l.low, l.high, l.nextLow, l.nextHigh]) if (v !== null) values.push(Math.abs(v));
  const max = 1.08 * Math.max(data.limits[0]?.percent ?? 0.5, ...values);
  const x = d3.scaleLinear([-max, max], [margin.left, width - margin.right]);
  const at = (i) => margin.top + row * i + (narrow ? row - 36 : row / 2);

  const shown = data.limits.filter((l) => l.percent <= max);
  for (const l of data.limits) {
    const p = Math.min(l.percent, max);
    svg.append("rect").attr("x", x(-p)).attr("width", x(p) - x(-p)).attr("y", margin.top).attr("height", bottom - margin.top).attr("fill", "var(--limit)").attr("fill-opacity", 0.06);
  }
  let last = Infinity;
  let level = 0;
  for (const l of shown.slice().reverse()) {
    const text = `${l.name} ${l.words}`;
    const end = Math.min(width, x(l.percent) + text.length * 3.2);
    level = end > last ? level + 1 : 0;
    for (const sign of [-1, 1])
      line(svg, x(sign * l.percent), sign > 0 ? margin.top - 4 - 15 * level : margin.top, x(sign * l.percent), bottom, "var(--limit)").attr("stroke-opacity", 0.45);
    clear(words(svg, text, end, margin.top - 8 - 15 * level, "end", "var(--limit)", 12));
    last = end - text.length * 6.4 - 6;
  }
  const ticks = x.ticks(narrow ? 4 : 8);
  for (const t of ticks) {
    line(svg, x(t), bottom, x(t), bottom + 5, "var(--edge)");
    words(svg, signed(t, decimalsOf(ticks)), x(t), bottom + 20, "middle", QUIET, 12);
  }
  words(svg, "error, %", narrow ? margin.left : margin.left - 12, narrow ? bottom + 34 : bottom + 20, narrow ? "start" : "end", QUIET, 12);
  line(svg, x(0), margin.top, x(0), bottom, INK, 1.25);
  line(svg, margin.left, bottom, width - margin.right, bottom, "var(--edge)");

  // The same outing, joined.
  for (const [, marks] of d3.groups(data.marks, (m) => m.session))
    for (const [a, b] of d3.pairs(d3.sort(marks, (m) => m.line)))
      if (b.line === a.line + 1) line(svg, x(a.percent), at(a.line), x(b.percent), at(b.line), QUIET, 1).attr("stroke-opacity", 0.55);

  data.lines.forEach((l, i) => {
    const top = margin.top + row * i;
    const y = at(i);
    if (i) line(svg, 0, top, width, top, RULE).attr("stroke-dasharray", "2 4");
    clear(words(svg, fitted(l.name, narrow ? width - 9 * l.label.length : names - 8, narrow ? 9.2 : 8), 0, narrow ? top + 18 : y - 10, "start", INK, 15)).attr("font-weight", 600);
    clear(words(svg, fitted(`firmware ${l.firmware}`, narrow ? width : names - 16, 6.6), 0, narrow ? top + 35 : y + 9, "start", QUIET, 12));
    clear(words(svg, l.label, narrow ? width : 0, narrow ? top + 18 : y + 27, narrow ? "end" : "start", INK)).attr("font-weight", 600);
    if (l.mean !== null) {
      const g = mark(svg, l.words, null);
      const low = x(l.nextLow ?? l.low ?? l.mean);
      const high = x(l.nextHigh ?? l.high ?? l.mean);
      g.append("rect").attr("class", "halo").attr("x", Math.min(low, x(l.mean) - 12)).attr("y", y + 2).attr("width", Math.max(24, high - low)).attr("height", 24).attr("rx", 3).attr("fill", "transparent");
      const base = y + 14;
      if (l.nextLow !== null) {
        line(g, low, base, high, base, INK, 1.25);
        for (const v of [low, high]) line(g, v, base - 4, v, base + 4, INK, 1.25);
      }
      if (l.low !== null) line(g, x(l.low), base, x(l.high), base, INK, 5);
      g.append("path").attr("d", `M${x(l.mean)} ${base - 8}l7 8l-7 8l-7 -8z`).attr("fill", l.low === null ? PAPER : INK).attr("stroke", l.low === null ? INK : PAPER).attr("stroke-width", 2).attr("paint-order", "stroke");
    }
    for (const m of data.marks.filter((m) => m.line === i)) {
      const g = mark(svg, m.words, m.link);
      g.append("rect").attr("class", "halo").attr("x", x(m.percent) - 12).attr("y", y - 12).attr("width", 24).attr("height", 24).attr("rx", 3).attr("fill", "transparent");
      g.append("circle").attr("cx", x(m.percent)).attr("cy", y).attr("r", 4.5).attr("fill", PAPER).attr("fill-opacity", 0.7).attr("stroke", series(i)).attr("stroke-width", 1.8);
    }
  });
  return svg.node();
}
