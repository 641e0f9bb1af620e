// Signed error over the releases in order of date: the face of the tool. Wide, the releases stand
// side by side; narrow, one below the other with the error running across.
/* global d3 */
import { ACCENT, INK, PAPER, QUIET, RULE, canvas, decimalsOf, hatch, line, mark, shape, signed, symbol, words } from "./chart-base.js";

const NARROW = 640;

export function model(data, width, place) {
  legend(data, place);
  return width < NARROW ? upright(data, width) : across(data, width);
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

function across(data, width) {
  const n = data.releases.length;
  const margin = { top: 64, right: 128, bottom: 66, left: 56 };
  const step = Math.min(230, (width - margin.left - margin.right) / n);
  const height = 500;
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
  words(svg, "error, %", 0, margin.top - 18, "start", QUIET);

  for (let i = 1; i < n; i++) line(svg, margin.left + step * i, margin.top, margin.left + step * i, bottom + 8, RULE);
  line(svg, margin.left, margin.top, margin.left, bottom, "var(--edge)");
  line(svg, margin.left, y(0), right, y(0), INK, 1.25);

  for (const l of dodge(shown.map((l) => ({ ...l, at: y(l.percent) })), 16)) {
    words(svg, `${l.name} ${l.words}`, right + 10, l.at + 4.5, "start", "var(--limit)");
  }
  for (const l of dodge(shown.map((l) => ({ ...l, at: y(-l.percent) })), 16)) {
    words(svg, l.negative, right + 10, l.at + 4.5, "start", "var(--limit)");
  }
  words(svg, "reads long", right + 10, margin.top + 4, "start", QUIET, 12);
  words(svg, "reads short", right + 10, bottom, "start", QUIET, 12);

  const means = data.releases.map((r, i) => [i, r.mean]).filter((d) => d[1] !== null);
  svg
    .append("path")
    .attr("d", d3.line((d) => middle(d[0]), (d) => y(d[1]))(means))
    .attr("fill", "none")
    .attr("stroke", INK)
    .attr("stroke-opacity", 0.22)
    .attr("stroke-width", 1.5);

  data.releases.forEach((r, i) => {
    const x = middle(i);
    if (!r.tested) {
      const g = mark(svg, r.words, null);
      g.append("rect").attr("class", "halo").attr("x", x - step / 2 + 1).attr("width", step - 2).attr("y", margin.top).attr("height", bottom - margin.top).attr("fill", untested);
      const label = words(g, "not tested", x, y(0) - 12, "middle", INK);
      label.attr("stroke", PAPER).attr("stroke-width", 6).attr("paint-order", "stroke").attr("stroke-linejoin", "round");
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
    }
    if (r.tested && r.low === null) {
      r.note.split(", ").forEach((part, k) =>
        words(svg, part, x, bottom - 26 + 15 * k, "middle", QUIET, 12)
          .attr("stroke", PAPER).attr("stroke-width", 4).attr("paint-order", "stroke"),
      );
    }
    const label = words(svg, r.version, x, bottom + 24, "middle", INK, 15);
    label.attr("font-weight", 600);
    if (r.anchor) {
      words(svg, "anchor", x + 7, bottom + 59, "middle", ACCENT, 12);
      pennant(svg, x - 29, bottom + 61);
    }
    words(svg, r.date, x, bottom + 42, "middle", QUIET, 12);
  });

  data.changes.forEach((c) => {
    const x = margin.left + step * c.at;
    const g = mark(svg, c.words, c.link);
    halo(g, x - 56, 4, 112, 50);
    const text = words(g, c.outcome, x + 8, 20, "middle", `var(--${c.tone})`);
    text.attr("font-weight", 600);
    shape(g, c.tone, x - 8 - c.outcome.length * 3.6, 15.5);
    words(g, c.change, x, 37, "middle", INK);
    line(g, x, 44, x, margin.top, "var(--edge)");
  });
  return svg.node();
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
    const head = svg.append("text").attr("x", margin.left).attr("y", top + 20).attr("stroke", PAPER).attr("stroke-width", 4).attr("paint-order", "stroke");
    head.append("tspan").attr("font-weight", 600).attr("font-size", 15).text(r.version);
    head.append("tspan").attr("dx", 8).attr("font-size", 12).attr("fill", QUIET).text(r.anchor ? `${r.date} · anchor` : r.date);
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
