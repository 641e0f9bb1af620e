// Differences with their intervals, one row each; the material change as a band.
/* global d3 */
import { INK, PAPER, QUIET, RULE, canvas, decimalsOf, fitted, line, mark, signed, words } from "./chart-base.js";

export function forest(data, width) {
  const narrow = width < 640;
  const row = narrow ? 74 : 40;
  const label = narrow ? 0 : Math.min(420, Math.max(...data.rows.map((r) => r.name.length)) * 7 + 24);
  const figures = narrow ? 0 : 190;
  const margin = { top: 26, right: 12 + figures, bottom: 34, left: 12 + label };
  const height = margin.top + row * data.rows.length + margin.bottom;
  const bottom = height - margin.bottom;
  const ends = data.rows.flatMap((r) => [r.low ?? r.difference, r.high ?? r.difference]);
  const least = Math.min(-1.3 * data.material, ...ends);
  const most = Math.max(1.3 * data.material, ...ends);
  const room = 0.06 * (most - least);
  const x = d3.scaleLinear([least - room, most + room], [margin.left, width - margin.right]);
  const svg = canvas(width, height);
  svg.append("rect").attr("x", x(-data.material)).attr("width", x(data.material) - x(-data.material)).attr("y", margin.top).attr("height", bottom - margin.top).attr("fill", "var(--limit)").attr("fill-opacity", 0.1);
  for (const s of [-1, 1]) line(svg, x(s * data.material), margin.top - 4, x(s * data.material), bottom, "var(--limit)").attr("stroke-opacity", 0.5);
  words(svg, data.materialWords, x(0), 14, "middle", "var(--limit)", 12);
  const ticks = x.ticks(narrow ? 4 : 7);
  for (const t of ticks) {
    line(svg, x(t), bottom, x(t), bottom + 5, "var(--edge)");
    words(svg, signed(t, decimalsOf(ticks)), x(t), bottom + 20, "middle", QUIET, 12);
  }
  line(svg, x(0), margin.top, x(0), bottom, INK, 1.25);
  data.rows.forEach((r, i) => {
    const top = margin.top + row * i;
    const y = top + (narrow ? 56 : row / 2);
    if (i) line(svg, 0, top, width, top, RULE);
    const name = words(svg, fitted(r.name, narrow ? width : label - 10), 0, narrow ? top + 17 : y + 4.5, "start", INK);
    name.attr("font-weight", r.pooled ? 600 : 400).attr("stroke", PAPER).attr("stroke-width", 4).attr("paint-order", "stroke");
    words(svg, r.figure, narrow ? 0 : width, narrow ? top + 34 : y + 4.5, narrow ? "start" : "end", INK).attr("font-weight", r.pooled ? 600 : 400).attr("stroke", PAPER).attr("stroke-width", 4).attr("paint-order", "stroke");
    const g = mark(svg, r.words, null);
    const low = x(r.low ?? r.difference);
    const high = x(r.high ?? r.difference);
    g.append("rect").attr("class", "halo").attr("x", low - 8).attr("y", y - 11).attr("width", high - low + 16).attr("height", 22).attr("rx", 3).attr("fill", "transparent");
    if (r.low !== null) line(g, low, y, high, y, INK, r.pooled ? 4 : 2);
    const d = r.pooled ? 8 : 5.5;
    g.append("path").attr("d", `M${x(r.difference)} ${y - d}l${d} ${d}l${-d} ${d}l${-d} ${-d}z`).attr("fill", r.low === null ? PAPER : INK).attr("stroke", INK).attr("stroke-width", 1.5);
  });
  return svg.node();
}
