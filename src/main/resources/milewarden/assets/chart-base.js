// What the charts share: signs, hatches, status shapes, marks that can be reached by keyboard.
/* global d3 */
export const INK = "var(--ink)";
export const QUIET = "var(--quiet)";
export const RULE = "var(--rule)";
export const PAPER = "var(--paper)";
export const ACCENT = "var(--accent)";
export const series = (i) => `var(--series-${(i % 6) + 1})`;

// In which units and numerals the reader reads.
const read = document.documentElement.dataset;
export const FEET = read.ground === "ft";
export const GROUND = FEET
  ? { symbol: "ft", name: "feet", metres: 0.3048 }
  : { symbol: "m", name: "metres", metres: 1 };
// From metres a second, and from metres per kilometre: the mile and the foot of 1959.
export const SPEED = FEET ? 3600 / 1609.344 : 3.6;
export const PER_ROAD = FEET ? 1.609344 / 0.3048 : 1;

export function number(value, decimals = 0) {
  const digits = { minimumFractionDigits: decimals, maximumFractionDigits: decimals };
  return value.toLocaleString(read.locale || "en", digits);
}

// The axis of places along a course, whose data are metres.
export function along(lengthM, width) {
  return {
    label: null,
    transform: (m) => m / GROUND.metres,
    domain: [0, lengthM / GROUND.metres],
    ticks: Math.max(3, Math.floor(width / 130)),
    tickFormat: (d) => number(d),
  };
}

// An axis of signed amounts, whose data are metres unless a factor says otherwise.
export function amounts(factor = 1 / GROUND.metres) {
  return {
    label: null,
    transform: (m) => m * factor,
    ticks: 5,
    tickFormat: (d, i, all) => signed(d, decimalsOf(all ?? [0, 1])),
  };
}

// A name as long as its room; the whole of it is in what its mark says and in the table.
export function fitted(text, room, digit = 7) {
  const most = Math.max(4, Math.floor(room / digit));
  return text.length > most ? `${text.slice(0, most - 1)}\u2026` : text;
}

// A number with its sign and the true minus; zero has none.
export function signed(value, decimals) {
  const text = number(Math.abs(value), decimals);
  if (Number(Math.abs(value).toFixed(decimals)) === 0) return text;
  return (value < 0 ? "\u2212" : "+") + text;
}

export function decimalsOf(ticks) {
  const step = ticks.length > 1 ? Math.abs(ticks[1] - ticks[0]) : 1;
  return Math.max(0, Math.min(3, -Math.floor(Math.log10(step) + 1e-9)));
}

export function canvas(width, height) {
  return d3
    .create("svg")
    .attr("viewBox", `0 0 ${width} ${height}`)
    .attr("width", width)
    .attr("height", height)
    .attr("font-size", 13)
    .attr("fill", INK);
}

let made = 0;
export function hatch(svg, colour, angle, gap = 6, weight = 1.5) {
  const id = `hatch-${++made}`;
  const pattern = svg
    .append("defs")
    .append("pattern")
    .attr("id", id)
    .attr("patternUnits", "userSpaceOnUse")
    .attr("patternTransform", `rotate(${angle})`)
    .attr("width", gap)
    .attr("height", gap);
  pattern.append("rect").attr("width", gap).attr("height", gap).attr("fill", colour).attr("fill-opacity", 0.14);
  pattern.append("line").attr("y2", gap).attr("stroke", colour).attr("stroke-width", weight * 2).attr("stroke-opacity", 0.75);
  return `url(#${id})`;
}

// Words that a line may run behind.
export function clear(text, paper = PAPER, width = 4) {
  return text.attr("stroke", paper).attr("stroke-width", width).attr("paint-order", "stroke").attr("stroke-linejoin", "round");
}

// A group that says its numbers under pointer and focus; with an address it is a link.
export function mark(parent, words, href) {
  const g = href
    ? parent.append("a").attr("href", href)
    : parent.append("g").attr("tabindex", 0).attr("role", "img");
  return g.attr("data-tip", words).attr("aria-label", words.replaceAll("\n", ", "));
}

export function line(parent, x1, y1, x2, y2, stroke = INK, weight = 1) {
  return parent
    .append("line")
    .attr("x1", x1)
    .attr("y1", y1)
    .attr("x2", x2)
    .attr("y2", y2)
    .attr("stroke", stroke)
    .attr("stroke-width", weight);
}

export function words(parent, text, x, y, anchor = "start", fill = INK, size = 13) {
  return parent
    .append("text")
    .attr("x", x)
    .attr("y", y)
    .attr("text-anchor", anchor)
    .attr("fill", fill)
    .attr("font-size", size)
    .text(text);
}

// The status shapes of the pages, centred.
export function shape(parent, tone, x, y) {
  const g = parent.append("g").attr("transform", `translate(${x},${y})`);
  const colour = `var(--${tone})`;
  if (tone === "holds") g.append("circle").attr("r", 5).attr("fill", colour);
  else if (tone === "watch") g.append("path").attr("d", "M0-5L5.5 5H-5.5Z").attr("fill", colour);
  else if (tone === "broken") g.append("path").attr("d", "M0-6L6 0L0 6L-6 0Z").attr("fill", colour);
  else g.append("circle").attr("r", 4).attr("fill", "none").attr("stroke", colour).attr("stroke-width", 2);
  return g;
}

export const SYMBOLS = () => [d3.symbolCircle, d3.symbolSquare2, d3.symbolTriangle2, d3.symbolDiamond2, d3.symbolPlus, d3.symbolTimes];

export function symbol(parent, i, x, y, size = 48) {
  const kinds = SYMBOLS();
  return parent
    .append("path")
    .attr("d", d3.symbol(kinds[i % kinds.length], size)())
    .attr("transform", `translate(${x},${y})`)
    .attr("fill", PAPER)
    .attr("fill-opacity", 0.6)
    .attr("stroke", series(i))
    .attr("stroke-width", 1.6);
}
