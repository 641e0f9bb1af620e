// One run: the ladder from the reference to the display, and where along the course the excess arises.
/* global d3, Plot */
import { GROUND, INK, PAPER, QUIET, RULE, SPEED, along, amounts, canvas, clear, decimalsOf, hatch, line, mark, number, series, signed, words } from "./chart-base.js";

// So many places of a line can be reached by keyboard.
const MOST_STOPS = 60;
const LONG = "var(--long)";
const SHORT = "var(--short)";

// Wide: level lines join floating steps from left to right. Narrow: the same from top to bottom.
export function ladder(data, width) {
  const read = inGround(data);
  return width < 640 ? ladderDown(read, width) : ladderAcross(read, width);
}

// Levels in the reader's unit.
function inGround(data) {
  const u = GROUND.metres;
  const steps = data.steps.map((s) => ({ ...s, from: s.from / u, low: s.low / u, high: s.high / u }));
  return { ...data, steps, end: data.end / u };
}

function levels(data) {
  const all = [0, data.end];
  for (const s of data.steps) all.push(s.from, s.low, s.high);
  const low = Math.min(...all);
  const high = Math.max(...all);
  const room = Math.max(0.5, 0.14 * (high - low));
  return [low - room, high + room];
}

// An interval that reaches to both sides is neither long nor short.
function block(g, x, y, w, h, up, fills, open) {
  g.append("rect")
    .attr("class", "halo")
    .attr("x", x)
    .attr("y", y)
    .attr("width", Math.max(1, w))
    .attr("height", Math.max(1, h))
    .attr("fill", open ? "var(--tint)" : up ? fills.long : fills.short)
    .attr("stroke", open ? QUIET : up ? LONG : SHORT)
    .attr("stroke-width", 1.5);
}

function ladderAcross(data, width) {
  const margin = { top: 44, right: 12, bottom: 52, left: 56 };
  const height = 360;
  const n = data.steps.length + 2;
  const step = (width - margin.left - margin.right) / n;
  const bottom = height - margin.bottom;
  const y = d3.scaleLinear(levels(data), [bottom, margin.top]).nice(6);
  const svg = canvas(width, height);
  const fills = { long: hatch(svg, LONG, 45), short: hatch(svg, SHORT, -45) };
  const box = Math.min(84, step * 0.62);
  const middle = (i) => margin.left + step * (i + 0.5);

  const ticks = y.ticks(6);
  for (const t of ticks) {
    line(svg, margin.left, y(t), width - margin.right, y(t), RULE).attr("stroke-opacity", 0.7);
    words(svg, signed(t, decimalsOf(ticks)), margin.left - 8, y(t) + 4.5, "end", QUIET);
  }
  words(svg, `${GROUND.name} from the reference`, 0, 14, "start", QUIET, 12);
  line(svg, margin.left, y(0), width - margin.right, y(0), INK, 1.25);

  const end = (i, value, name, amount) => {
    line(svg, middle(i) - box / 2, y(value), middle(i) + box / 2, y(value), INK, 4);
    words(svg, amount, middle(i), y(value) - 12, "middle", INK).attr("font-weight", 600);
    words(svg, name, middle(i), bottom + 22, "middle", INK, 13).attr("font-weight", 600);
  };
  end(0, 0, data.startName, data.startAmount);
  let level = 0;
  data.steps.forEach((s, k) => {
    line(svg, middle(k) + box / 2, y(level), middle(k + 1) - box / 2, y(level), QUIET, 1);
    level = s.interval ? data.end : s.high;
  });
  line(svg, middle(n - 2) + box / 2, y(level), middle(n - 1) - box / 2, y(level), QUIET, 1);
  const most = largest(data.steps);
  data.steps.forEach((s, k) => {
    const i = k + 1;
    const up = s.low + s.high >= 2 * s.from;
    const open = s.low < s.from && s.high > s.from;
    const g = mark(svg, s.words, null);
    const span = s.interval ? [s.low, s.high] : [s.from, s.high];
    const top = Math.min(y(span[0]), y(span[1]));
    block(g, middle(i) - box / 2, top, box, Math.abs(y(span[0]) - y(span[1])), up, fills, open);
    if (s.interval) {
      g.append("path")
        .attr("d", `M${middle(i) - box / 2} ${y(s.low)}h${box}M${middle(i) - box / 2} ${y(s.high)}h${box}M${middle(i)} ${y(s.low)}V${y(s.high)}`)
        .attr("stroke", INK)
        .attr("stroke-width", 1.5);
    }
    const above = up || s.interval;
    const at = above ? top - 22 : Math.max(y(span[0]), y(span[1])) + 16;
    clear(words(g, s.size, middle(i), at, "middle", INK, 13), PAPER, 8).attr("font-weight", s === most ? 600 : 400);
    clear(words(g, s.percent, middle(i), at + 15, "middle", QUIET, 12), PAPER, 8);
    wrap(svg, s.name, middle(i), bottom + 22, step, s === most ? 600 : 400);
  });
  end(n - 1, data.end, data.endName, data.endAmount);
  return svg.node();
}

function wrap(svg, text, x, y, room, weight) {
  const parts = text.length * 7 > room ? text.split(" ") : [text];
  parts.forEach((p, i) => words(svg, p, x, y + 15 * i, "middle", INK, 13).attr("font-weight", weight));
}

// The step that the sentence beneath speaks of.
function largest(steps) {
  return d3.greatest(steps.filter((s) => !s.interval), (s) => Math.abs(s.high - s.from));
}

function ladderDown(data, width) {
  const row = 50;
  const margin = { top: 8, right: 8, bottom: 30, left: 8 };
  const n = data.steps.length + 2;
  const height = margin.top + row * n + margin.bottom;
  const bottom = height - margin.bottom;
  const x = d3.scaleLinear(levels(data), [margin.left, width - margin.right]).nice(4);
  const svg = canvas(width, height);
  const fills = { long: hatch(svg, LONG, 45), short: hatch(svg, SHORT, -45) };
  const ticks = x.ticks(4);
  for (const t of ticks) {
    line(svg, x(t), margin.top, x(t), bottom, RULE);
    words(svg, `${signed(t, decimalsOf(ticks))} ${GROUND.symbol}`, Math.max(18, Math.min(width - 18, x(t))), bottom + 18, "middle", QUIET, 12);
  }
  line(svg, x(0), margin.top, x(0), bottom, INK, 1.25);
  const title = (i, name, amount, bold) => {
    const y = margin.top + row * i + 15;
    clear(words(svg, name, margin.left, y, "start", INK), PAPER, 8).attr("font-weight", bold ? 600 : 400);
    clear(words(svg, amount, width - margin.right, y, "end", bold ? INK : QUIET), PAPER, 8).attr("font-weight", bold ? 600 : 400);
  };
  line(svg, x(0), margin.top + 22, x(0), margin.top + 40, INK, 4);
  let level = 0;
  data.steps.forEach((s, k) => {
    const y = margin.top + row * (k + 1) + 22;
    line(svg, x(level), y - row + 18, x(level), y, QUIET, 1);
    level = s.interval ? data.end : s.high;
  });
  const y = margin.top + row * (n - 1) + 22;
  line(svg, x(level), y - row + 18, x(level), y, QUIET, 1);
  const largestStep = largest(data.steps);
  title(0, data.startName, data.startAmount, true);
  data.steps.forEach((s, k) => {
    const y = margin.top + row * (k + 1) + 22;
    const up = s.low + s.high >= 2 * s.from;
    const open = s.low < s.from && s.high > s.from;
    const most = s.interval ? [s.low, s.high] : [s.from, s.high];
    const left = Math.min(x(most[0]), x(most[1]));
    const g = mark(svg, s.words, null);
    block(g, left, y, Math.abs(x(most[0]) - x(most[1])), 18, up, fills, open);
    if (s.interval) g.append("path").attr("d", `M${x(s.low)} ${y}v18M${x(s.high)} ${y}v18M${x(s.low)} ${y + 9}H${x(s.high)}`).attr("stroke", INK).attr("stroke-width", 1.5);
    const both = `${s.size}, ${s.percent}`;
    const room = width - margin.left - margin.right - 16;
    title(k + 1, s.name, (s.name.length + both.length) * 7.2 > room ? s.size : both, s === largestStep);
  });
  title(n - 1, data.endName, data.endAmount, true);
  line(svg, x(data.end), y, x(data.end), y + 18, INK, 4);
  return svg.node();
}

// Two sums, one upwards and one downwards, with the limits that either must not pass.
export function cusum(data, width, place) {
  for (const [i, key] of [...place.parentElement.querySelectorAll(".legend.sums .key")].entries()) {
    if (key.firstChild) continue;
    const sample = d3.select(key).append("svg").attr("aria-hidden", "true");
    const rule = line(sample, 0, 8, 16, 8, [LONG, SHORT, "var(--limit)"][i], i < 2 ? 1.75 : 1);
    if (i === 2) rule.attr("stroke-dasharray", "5 4");
    else sample.append("circle").attr("cx", 8).attr("cy", 8).attr("r", 3.5).attr("fill", [LONG, SHORT][i]);
  }
  const points = data.high.map((high, i) => ({
    session: i + 1,
    high,
    low: data.low[i],
    words: `session ${i + 1}\nupwards ${data.highWords[i]}\ndownwards ${data.lowWords[i]}`,
  }));
  const most = Math.max(1.15 * data.limit, ...points.map((p) => Math.max(p.high, p.low)));
  const hit = points.filter((p) => data.signals.includes(p.session));
  const chart = Plot.plot({
    width,
    height: 220,
    marginLeft: 56,
    marginRight: 8,
    style: { fontSize: "13px", overflow: "visible" },
    x: { label: null, domain: [0.5, Math.max(10, points.length) + 0.5], ticks: Math.min(points.length, Math.floor(width / 60)), tickFormat: (d) => (Number.isInteger(d) ? String(d) : "") },
    y: { label: null, domain: [-most, most], ticks: 5, tickFormat: (d, i, all) => signed(d, decimalsOf(all ?? [0, 1])) },
    marks: [
      Plot.ruleY([data.limit, -data.limit], { stroke: "var(--limit)", strokeDasharray: "5 4" }),
      Plot.ruleY([0], { stroke: INK }),
      Plot.lineY(points, { x: "session", y: "high", stroke: LONG, strokeWidth: 1.75 }),
      Plot.lineY(points, { x: "session", y: (p) => -p.low, stroke: SHORT, strokeWidth: 1.75 }),
      Plot.dot(points, { x: "session", y: "high", r: 3.5, fill: LONG, ariaLabel: "words" }),
      Plot.dot(points, { x: "session", y: (p) => -p.low, r: 3.5, fill: SHORT, ariaLabel: "words" }),
      Plot.dot(hit, { x: "session", y: (p) => (p.high >= p.low ? p.high : -p.low), r: 8, stroke: INK, strokeWidth: 2 }),
    ],
  });
  return reachable(plain(chart), "circle[aria-label]");
}

export function excess(data, width) {
  const chart = Plot.plot({
    width,
    height: 220,
    marginLeft: 56,
    marginRight: 8,
    style: { fontSize: "13px", overflow: "visible" },
    x: along(data.lengthM, width),
    y: amounts(),
    marks: [
      Plot.rectY(data.bins, {
        x1: "fromM",
        x2: "toM",
        y: "excessM",
        fill: (d) => (d.excessM >= 0 ? LONG : SHORT),
        fillOpacity: 0.8,
        insetLeft: 0.5,
        insetRight: 0.5,
        ariaLabel: "words",
      }),
      Plot.ruleY([0], { stroke: INK }),
    ],
  });
  return reachable(plain(chart), "rect[aria-label]");
}

// The same for a difference of two releases: bars that stand out are full, the band is behind them.
export function strip(data, width) {
  const end = data.bins[data.bins.length - 1];
  const band = data.bins.filter((b) => b.low !== null);
  const steps = band.length ? [...band, { ...end, fromM: end.toM }] : [];
  const chart = Plot.plot({
    width,
    height: 240,
    marginLeft: 56,
    marginRight: 8,
    style: { fontSize: "13px", overflow: "visible" },
    x: along(data.lengthM, width),
    y: amounts(),
    marks: [
      Plot.areaY(steps, { x: "fromM", y1: "low", y2: "high", curve: "step-after", fill: QUIET, fillOpacity: 0.22 }),
      Plot.rectY(data.bins, {
        x1: "fromM",
        x2: "toM",
        y: "differenceM",
        fill: (d) => (d.differenceM >= 0 ? LONG : SHORT),
        fillOpacity: (d) => (d.apart ? 0.9 : 0.35),
        insetLeft: 0.5,
        insetRight: 0.5,
        ariaLabel: "words",
      }),
      Plot.ruleY([0], { stroke: INK }),
    ],
  });
  return reachable(plain(chart), "rect[aria-label]");
}

export function offset(data, width, place, page) {
  return lines(data, width, amounts(), page.places);
}

export function speed(data, width, place, page) {
  return lines(data, width, { ...amounts(SPEED), tickFormat: (d) => number(d) }, page.places);
}

// The places are the pass's, the same for each line.
function lines(data, width, y, places) {
  const at = rows(places);
  const all = data.lines.map((l) => {
    const its = at.filter((_, i) => !l.without.includes(i));
    return its.map((p, i) => ({ chainageM: p.chainageM, value: l.value[i], words: `${p.words}\n${l.words[i]}` }));
  });
  const chart = Plot.plot({
    width,
    height: 240,
    marginLeft: 56,
    marginRight: 8,
    style: { fontSize: "13px", overflow: "visible" },
    x: along(data.lengthM, width),
    y,
    marks: [
      Plot.ruleY([0], { stroke: INK }),
      Plot.ruleX(data.marks, { x: "chainageM", stroke: RULE }),
      ...all.map((points, i) =>
        Plot.lineY(points, { x: "chainageM", y: "value", stroke: series(i), strokeWidth: 1.5, strokeOpacity: 0.9 }),
      ),
      ...all.map((points) =>
        Plot.dot(stops(points), {
          x: "chainageM",
          y: "value",
          r: 5,
          fill: "transparent",
          pointerEvents: "none",
          ariaLabel: "words",
        }),
      ),
      ...all.map((points) =>
        Plot.tip(points, Plot.pointerX({ x: "chainageM", y: "value", title: "words", fill: "var(--raised)", stroke: "var(--edge)", textPadding: 8 })),
      ),
    ],
  });
  return reachable(plain(chart), "circle[aria-label]");
}

// The horizontal error of a position against time, with the radii that hold half and 95 % of them.
export function epochs(data, width) {
  const parts = data.lines.map(rows);
  const all = parts.flat();
  const chart = Plot.plot({
    width,
    height: 260,
    marginLeft: 56,
    marginRight: 8,
    style: { fontSize: "13px", overflow: "visible" },
    x: { label: null, domain: [0, Math.max(data.minutes, 1e-9)], ticks: Math.max(3, Math.floor(width / 130)) },
    y: { ...amounts(), domain: [0, Math.max((data.mostM * 1.1) / GROUND.metres, 1e-9)], tickFormat: (d, i, all) => number(d, decimalsOf(all ?? [0, 1])) },
    marks: [
      Plot.ruleY([0], { stroke: INK }),
      ...parts.map((points) => Plot.lineY(points, { x: "minute", y: "valueM", stroke: series(0), strokeWidth: 1.25, strokeOpacity: 0.9 })),
      ...parts
        .filter((points) => points.length === 1)
        .map((points) => Plot.dot(points, { x: "minute", y: "valueM", fill: series(0), r: 2 })),
      Plot.ruleY(data.levels, { y: "valueM", stroke: INK, strokeDasharray: "6 4" }),
      Plot.text(data.levels, {
        x: () => data.minutes,
        y: "valueM",
        text: "name",
        textAnchor: "end",
        dy: -8,
        fill: INK,
        stroke: PAPER,
        strokeWidth: 4,
      }),
      Plot.dot([...stops(all), ...data.levels.map((l) => ({ ...l, minute: data.minutes }))], {
        x: "minute",
        y: "valueM",
        r: 5,
        fill: "transparent",
        pointerEvents: "none",
        ariaLabel: "words",
      }),
      Plot.tip(all, Plot.pointerX({ x: "minute", y: "valueM", title: "words", fill: "var(--raised)", stroke: "var(--edge)", textPadding: 8 })),
    ],
  });
  return reachable(plain(chart), "circle[aria-label]");
}

// A line comes by columns, which takes half the bytes.
function rows(line) {
  const columns = Object.entries(line).filter(([, values]) => Array.isArray(values));
  return columns[0][1].map((_, i) => Object.fromEntries(columns.map(([name, values]) => [name, values[i]])));
}

// The places of a line that the keyboard reaches.
function stops(points) {
  return points.filter((_, k) => k % Math.ceil(points.length / MOST_STOPS) === 0);
}

// Plot wraps its drawing where it has a legend; the drawing alone is wanted.
function plain(chart) {
  const svg = chart.tagName === "svg" ? chart : chart.querySelector("svg");
  svg.setAttribute("color", "var(--quiet)");
  // Plot names its groups; a group has no role to bear a name, and the names say nothing to a reader.
  for (const group of svg.querySelectorAll("g[aria-label]")) group.removeAttribute("aria-label");
  return svg;
}

function reachable(svg, which) {
  for (const node of svg.querySelectorAll(which)) {
    node.setAttribute("role", "img");
    node.setAttribute("data-tip", node.getAttribute("aria-label"));
  }
  return svg;
}
