// Signed error over the releases in order of date: the face of the tool. Wide, the releases stand
// side by side; narrow, one below the other with the error running across.
/* global d3 */
import { ACCENT, INK, PAPER, QUIET, RULE, canvas, clear, decimalsOf, fitted, hatch, line, mark, shape, signed, symbol, words } from "./chart-base.js";

const NARROW = 640;
// Columns narrower than this have no room for a version over its date.
const SMALLEST = 58;
const LEFT = 56;
const RIGHT = 128;

// How wide a column is: the ladders below stand in the same ones.
export function columns(width, n) {
  return Math.min(230, (width - LEFT - RIGHT) / n);
}

export function sideBySide(width, n) {
  return width >= NARROW && columns(width, n) >= SMALLEST;
}

export function model(data, width, place) {
  legend(data, place);
  return sideBySide(width, data.releases.length) ? across(data, width) : upright(data, width);
}

// The page names the conditions; their shapes are put beside the names.
function legend(data, place) {
  const keys = place.parentElement.querySelectorAll(".legend .key");
  keys.forEach((key, i) => {
    const svg = d3.create("svg").attr("viewBox", "0 0 16 16").attr("aria-hidden", "true");
    symbol(svg, i, 8, 8);
    key.replaceChildren(svg.node());
  });
}

// Equal up and down, wide enough for whatever is drawn, and for the smallest limit at least.
function reach(data) {
  const values = data.sessions.map((s) => Math.abs(s.percent));
  for (const r of data.releases)
    for (const v of [r.mean, r.low, r.high, r.nextLow, r.nextHigh]) if (v !== null) values.push(Math.abs(v));
  const smallest = d3.min(data.limits, (l) => l.percent) ?? 0.5;
  const most = Math.max(d3.max(values) ?? 0, smallest * 1.25);
  // A limit just beyond the figures is worth its room: how far one is from it is the question.
  const near = data.limits.map((l) => l.percent).filter((l) => l > most && l < 1.6 * most);
  return 1.08 * Math.max(most, ...near);
}

// Sessions of a column in order of start, on both sides of the mean.
function spread(count, step, free) {
  const room = Math.min(0.4 * step, 14 * Math.ceil(count / 2) + free);
  const half = Math.ceil(count / 2);
  return d3.range(count).map((i) => {
    const left = i < half;
    const n = left ? half : count - half;
    const k = left ? half - 1 - i : i - half;
    const at = n > 1 ? free + ((room - free) * k) / (n - 1) : free + Math.min(10, (room - free) / 2);
    return left ? -at : at;
  });
}

function bySession(data, release) {
  return d3.groups(
    data.sessions.filter((s) => s.release === release),
    (s) => s.session,
  );
}

function lozenge(parent, x, y, known) {
  parent
    .append("path")
    .attr("d", `M${x} ${y - 8}L${x + 7} ${y}L${x} ${y + 8}L${x - 7} ${y}Z`)
    .attr("fill", known ? INK : PAPER)
    .attr("stroke", known ? PAPER : INK)
    .attr("stroke-width", known ? 2 : 2)
    .attr("paint-order", "stroke");
}

function halo(parent, x, y, w, h) {
  parent
    .append("rect")
    .attr("class", "halo")
    .attr("x", x)
    .attr("y", y)
    .attr("width", w)
    .attr("height", h)
    .attr("rx", 3)
    .attr("fill", "transparent");
}

function pennant(parent, x, y) {
  line(parent, x, y, x, y - 16, ACCENT, 1.5);
  parent.append("path").attr("d", `M${x} ${y - 16}l11 4l-11 4z`).attr("fill", ACCENT);
}

// Names of the limits at the edge, apart far enough to be read.
function dodge(items, gap) {
  const sorted = items.slice().sort((a, b) => a.at - b.at);
  for (let i = 1; i < sorted.length; i++) sorted[i].at = Math.max(sorted[i].at, sorted[i - 1].at + gap);
  return sorted;
}

// Which changes stand in which row above the chart: neighbours lowest, wider spans over them.
function rowsOf(changes) {
  const rows = [];
  for (const c of changes.slice().sort((a, b) => a.at - a.from - (b.at - b.from) || a.at - b.at)) {
    let row = rows.findIndex((r) => r.every((o) => o.at <= c.from || o.from >= c.at));
    if (row < 0) row = rows.push([]) - 1;
    rows[row].push(c);
  }
  return rows;
}

// A change is drawn as a surveyor draws a measure: a line from the one column to the other, ticked at
// both ends, with what it comes to in its middle.
function measure(svg, c, left, right, y, roomy) {
  const g = mark(svg, c.words, c.link);
  halo(g, left, y - 18, right - left, 26);
  line(g, left, y, right, y, "var(--edge)");
  for (const x of [left, right]) line(g, x - 3, y + 4, x + 3, y - 4, INK, 1.25);
  const middle = (left + right) / 2;
  const said = svg.append("text").attr("y", y - 6).attr("text-anchor", "middle").attr("font-size", 13);
  if (roomy) said.append("tspan").attr("font-weight", 600).attr("fill", `var(--${c.tone})`).text(c.outcome);
  said.append("tspan").attr("dx", roomy ? 6 : 0).attr("fill", INK).text(c.change);
  said.attr("x", middle + 8);
  const wide = (roomy ? c.outcome.length * 8 + 6 : 0) + c.change.length * 7;
  shape(g, c.tone, middle - wide / 2 - 9, y - 10.5);
  g.append(() => said.node());
}

function across(data, width) {
  const n = data.releases.length;
  const rows = rowsOf(data.changes);
  const rise = 28;
  const margin = { top: 40 + rise * Math.max(1, rows.length), right: RIGHT, bottom: 80, left: LEFT };
  const step = columns(width, n);
  const roomy = step >= 150;
  const height = margin.top + 372 + margin.bottom;
  const right = margin.left + step * n;
  const bottom = height - margin.bottom;
  const max = reach(data);
  const y = d3.scaleLinear([-max, max], [bottom, margin.top]);
  const middle = (i) => margin.left + step * (i + 0.5);
  const svg = canvas(width, height);
  const untested = hatch(svg, RULE, 45, 8, 1);

  const limits = data.limits.slice().sort((a, b) => b.percent - a.percent);
  const shown = limits.filter((l) => l.percent <= max);
  for (const l of limits) {
    const p = Math.min(l.percent, max);
    svg
      .append("rect")
      .attr("x", margin.left)
      .attr("width", right - margin.left)
      .attr("y", y(p))
      .attr("height", y(-p) - y(p))
      .attr("fill", "var(--limit)")
      .attr("fill-opacity", 0.06);
  }
  for (const l of shown)
    for (const sign of [-1, 1])
      line(svg, margin.left, y(sign * l.percent), right, y(sign * l.percent), "var(--limit)", 1).attr("stroke-opacity", 0.45);

  const ticks = y.ticks(8);
  const decimals = decimalsOf(ticks);
  for (const t of ticks) {
    line(svg, margin.left - 5, y(t), margin.left, y(t), "var(--edge)");
    words(svg, signed(t, decimals), margin.left - 9, y(t) + 4.5, "end", QUIET);
  }
  words(svg, "error, %", margin.left - 9, margin.top - 12, "end", QUIET, 12);

  for (let i = 1; i < n; i++) line(svg, margin.left + step * i, margin.top, margin.left + step * i, bottom, RULE);
  line(svg, margin.left, margin.top, margin.left, bottom, "var(--edge)");
  line(svg, margin.left, y(0), right, y(0), INK, 1.25);

  for (const l of dodge(shown.map((l) => ({ ...l, at: y(l.percent) })), 16)) {
    words(svg, `${l.name} ${l.words}`, right + 10, l.at + 4.5, "start", "var(--limit)");
  }
  for (const l of dodge(shown.map((l) => ({ ...l, at: y(-l.percent) })), 16)) {
    words(svg, l.negative, right + 10, l.at + 4.5, "start", "var(--limit)");
  }
  words(svg, "reads long", right + 10, margin.top - 12, "start", QUIET, 12);
  words(svg, "reads short", right + 10, bottom + 16, "start", QUIET, 12);

  const means = data.releases.map((r, i) => [i, r.mean]).filter((d) => d[1] !== null);
  svg
    .append("path")
    .attr("d", d3.line((d) => middle(d[0]), (d) => y(d[1]))(means))
    .attr("fill", "none")
    .attr("stroke", INK)
    .attr("stroke-opacity", 0.22)
    .attr("stroke-width", 1.5);

  const named = [];
  data.releases.forEach((r, i) => {
    const x = middle(i);
    if (!r.tested) {
      const g = mark(svg, r.words, null);
      g.append("rect").attr("class", "halo").attr("x", x - step / 2 + 1).attr("width", step - 2).attr("y", margin.top).attr("height", bottom - margin.top).attr("fill", untested);
      clear(words(g, "not tested", x, y(0) - 12, "middle", INK), PAPER, 6);
    }
    const groups = bySession(data, i);
    const places = spread(groups.length, step, 18);
    groups.forEach(([, marks], k) => {
      for (const s of marks) {
        const g = mark(svg, s.words, s.link);
        halo(g, x + places[k] - 9, y(s.percent) - 9, 18, 18);
        symbol(g, s.condition, x + places[k], y(s.percent));
      }
    });
    if (r.mean !== null) {
      const g = mark(svg, r.words, null);
      const top = y(r.nextHigh ?? r.high ?? r.mean) - 4;
      const low = y(r.nextLow ?? r.low ?? r.mean) + 4;
      halo(g, x - 11, Math.min(top, y(r.mean) - 12), 22, Math.max(low, y(r.mean) + 12) - Math.min(top, y(r.mean) - 12));
      if (r.nextLow !== null) {
        line(g, x, y(r.nextLow), x, y(r.nextHigh), INK, 1.25);
        for (const v of [r.nextLow, r.nextHigh]) line(g, x - 4, y(v), x + 4, y(v), INK, 1.25);
      }
      if (r.low !== null) line(g, x, y(r.low), x, y(r.high), INK, 5);
      lozenge(g, x, y(r.mean), r.low !== null);
      named.push([r, x, i]);
    }
    if (r.tested && r.low === null) {
      r.note.split(", ").forEach((part, k) => clear(words(svg, part, x, bottom - 26 + 15 * k, "middle", QUIET, 12)));
    }
    column(svg, r, x, bottom, step);
  });
  // The figures over everything, where no session lies behind them.
  for (const [r, x, i] of named) figure(svg, data, r, i, x, y, step, margin.top, bottom);

  rows.forEach((row, k) => {
    for (const c of row) measure(svg, c, middle(c.from) + 6, middle(c.at) - 6, margin.top - 20 - rise * k, roomy || c.at - c.from > 1);
  });
  return svg.node();
}

// The mean in figures, above what is drawn of its column, or below where there is no room above.
function figure(svg, data, r, i, x, y, step, top, bottom) {
  const half = r.label.length * 3.7;
  const near = data.sessions.filter((s) => s.release === i).map((s) => s.percent);
  const highest = Math.max(r.nextHigh ?? r.high ?? r.mean, ...near);
  const lowest = Math.min(r.nextLow ?? r.low ?? r.mean, ...near);
  const above = y(highest) - 14;
  const text = 2 * half < step - 8 ? r.label : r.label.split(/\s%/)[0];
  clear(words(svg, text, x, above > top + 10 ? above : Math.min(bottom - 6, y(lowest) + 26), "middle", INK, 13)).attr("font-weight", 600);
}

// Under a column: what was tested, when, and on how much.
function column(svg, r, x, bottom, step) {
  const version = fitted(r.version, step, 8.2);
  const label = words(svg, version, x, bottom + 23, "middle", INK, 15);
  label.attr("font-weight", 600);
  // Where columns are narrow the pennant stands below the date.
  if (r.anchor) pennant(svg, step >= 100 ? x - version.length * 4.6 - 16 : x - 5, step >= 100 ? bottom + 24 : bottom + 76);
  const date = step >= 84 ? [r.date] : r.date.split(/ (?=\d{4}$)/);
  date.forEach((part, k) => words(svg, part, x, bottom + 41 + 15 * k, "middle", QUIET, 12));
  const basis = [r.basis, r.anchor ? "anchor" : ""].filter((w) => w && step >= 84).join(" · ");
  if (basis) words(svg, basis, x, bottom + 58, "middle", QUIET, 12);
}

function upright(data, width) {
  const n = data.releases.length;
  const margin = { top: 46, right: 10, bottom: 34, left: 10 };
  const row = 132;
  const height = margin.top + row * n + margin.bottom;
  const bottom = height - margin.bottom;
  const max = reach(data);
  const x = d3.scaleLinear([-max, max], [margin.left, width - margin.right]);
  const svg = canvas(width, height);
  const untested = hatch(svg, RULE, 45, 8, 1);

  const limits = data.limits.slice().sort((a, b) => b.percent - a.percent);
  for (const l of limits) {
    const p = Math.min(l.percent, max);
    svg
      .append("rect")
      .attr("x", x(-p))
      .attr("width", x(p) - x(-p))
      .attr("y", margin.top)
      .attr("height", bottom - margin.top)
      .attr("fill", "var(--limit)")
      .attr("fill-opacity", 0.06);
  }
  // Names above the right-hand lines, one step lower for each that would touch the one before.
  let last = Infinity;
  let level = 0;
  for (const l of limits.filter((l) => l.percent <= max)) {
    const text = `${l.name} ${l.words}`;
    const end = Math.min(width, x(l.percent) + 3);
    level = end > last ? level + 1 : 0;
    for (const sign of [-1, 1])
      line(svg, x(sign * l.percent), sign > 0 ? margin.top - 6 : margin.top, x(sign * l.percent), bottom, "var(--limit)", 1).attr("stroke-opacity", 0.45);
    words(svg, text, end, margin.top - 9 - 15 * (level % 3), "end", "var(--limit)", 12);
    last = end - text.length * 6.2 - 4;
  }

  const ticks = x.ticks(5);
  const decimals = decimalsOf(ticks);
  for (const t of ticks) {
    line(svg, x(t), bottom, x(t), bottom + 5, "var(--edge)");
    words(svg, signed(t, decimals), x(t), bottom + 19, "middle", QUIET, 12);
  }
  words(svg, "error, %", margin.left, height - 1, "start", QUIET, 12);
  line(svg, x(0), margin.top, x(0), bottom, INK, 1.25);

  data.releases.forEach((r, i) => {
    const top = margin.top + row * i;
    const y = top + 88;
    line(svg, margin.left, top, width - margin.right, top, RULE);
    if (!r.tested) {
      const g = mark(svg, r.words, null);
      g.append("rect").attr("class", "halo").attr("x", margin.left).attr("width", width - margin.left - margin.right).attr("y", top + 30).attr("height", row - 30).attr("fill", untested);
      words(g, "not tested", x(0), y + 4, "middle", INK).attr("stroke", PAPER).attr("stroke-width", 6).attr("paint-order", "stroke");
    }
    const version = fitted(r.version, width - 230, 9.4);
    const head = svg.append("text").attr("x", margin.left).attr("y", top + 20).attr("stroke", PAPER).attr("stroke-width", 4).attr("paint-order", "stroke");
    head.append("tspan").attr("font-weight", 600).attr("font-size", 15).text(version);
    head.append("tspan").attr("dx", 8).attr("font-size", 12).attr("fill", QUIET).text(r.date);
    if (r.anchor) pennant(svg, margin.left + version.length * 9.4 + r.date.length * 6.9 + 14, top + 22);
    if (r.label) clear(words(svg, r.label, width - margin.right, top + 20, "end", INK, 13)).attr("font-weight", 600);
    if (r.basis) clear(words(svg, r.basis, width - margin.right, top + 41, "end", QUIET, 12));
    const c = data.changes.find((c) => c.at === i);
    if (c) {
      const g = mark(svg, c.words, c.link);
      const text = `${c.outcome}, ${c.change}`;
      halo(g, margin.left - 3, top + 26, text.length * 7.4 + 24, 22);
      words(g, text, margin.left + 16, top + 41, "start", `var(--${c.tone})`)
        .attr("font-weight", 600).attr("stroke", PAPER).attr("stroke-width", 4).attr("paint-order", "stroke");
      shape(g, c.tone, margin.left + 5, top + 36.5);
    }
    const groups = bySession(data, i);
    const places = spread(groups.length, 76, 13);
    groups.forEach(([, marks], k) => {
      for (const s of marks) {
        const g = mark(svg, s.words, s.link);
        halo(g, x(s.percent) - 12, y + places[k] - 12, 24, 24);
        symbol(g, s.condition, x(s.percent), y + places[k], 40);
      }
    });
    if (r.mean !== null) {
      const g = mark(svg, r.words, null);
      const left = x(r.nextLow ?? r.low ?? r.mean) - 4;
      const right = x(r.nextHigh ?? r.high ?? r.mean) + 4;
      halo(g, Math.min(left, x(r.mean) - 12), y - 12, Math.max(right, x(r.mean) + 12) - Math.min(left, x(r.mean) - 12), 24);
      if (r.nextLow !== null) {
        line(g, x(r.nextLow), y, x(r.nextHigh), y, INK, 1.25);
        for (const v of [r.nextLow, r.nextHigh]) line(g, x(v), y - 4, x(v), y + 4, INK, 1.25);
      }
      if (r.low !== null) line(g, x(r.low), y, x(r.high), y, INK, 5);
      lozenge(g, x(r.mean), y, r.low !== null);
    }
    if (r.tested && r.low === null && !c) words(svg, r.note, margin.left, top + 41, "start", QUIET, 12);
  });
  line(svg, margin.left, bottom, width - margin.right, bottom, "var(--edge)");
  return svg.node();
}
