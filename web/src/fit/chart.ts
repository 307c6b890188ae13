// chart.ts - what the charts of the fit share: colors from the page's sheet, grounds behind the lines, their width.
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";

const ON_PAPER: Readonly<Record<string, string>> = {
  "--ink": "#000", "--soft": "#333", "--rule": "#999", "--accent": "#000", "--good": "#000", "--bad": "#000",
  "--good-back": "#eee", "--bad-back": "#ddd", "--sheet": "#fff", "--planned-fill": "#0003",
};
const PAPER_WIDTH = 640; // CSS pixels: inside the margins of A4 and of letter paper
let onPaper = false;

export function colorOf(host: Element, name: string): string {
  if (onPaper && ON_PAPER[name]) return ON_PAPER[name];
  return getComputedStyle(host).getPropertyValue(name).trim() || "#000";
}

export function axisLook(host: Element): Pick<uPlot.Axis, "stroke" | "grid" | "ticks" | "font"> {
  const rule = colorOf(host, "--rule");
  return {
    stroke: colorOf(host, "--ink"), font: '13px "Noto Sans", "DejaVu Sans", sans-serif',
    grid: { stroke: rule, width: 1 }, ticks: { stroke: rule, width: 1 },
  };
}

// Fills a part of the plot, behind everything.
export function ground(u: uPlot, from: { x?: number; y?: number }, to: { x?: number; y?: number }, fill: string): void {
  const { left, top, width, height } = u.bbox;
  const x = (v: number | undefined, other: number): number =>
    v === undefined ? other : Math.min(left + width, Math.max(left, u.valToPos(v, "x", true)));
  const y = (v: number | undefined, other: number): number =>
    v === undefined ? other : Math.min(top + height, Math.max(top, u.valToPos(v, "y", true)));
  const x0 = x(from.x, left), x1 = x(to.x, left + width), y0 = y(from.y, top + height), y1 = y(to.y, top);
  u.ctx.save();
  u.ctx.fillStyle = fill;
  u.ctx.fillRect(Math.min(x0, x1), Math.min(y0, y1), Math.abs(x1 - x0), Math.abs(y1 - y0));
  u.ctx.restore();
}

// A line across the plot with its name, `row` lines below the upper end.
export function mark(u: uPlot, x: number, name: string, color: string, dash: number[], row: number): void {
  const { left, top, width, height } = u.bbox;
  const at = u.valToPos(x, "x", true);
  if (at < left - 1 || at > left + width + 1) return;
  const { ctx } = u;
  const px = window.devicePixelRatio || 1;
  ctx.save();
  ctx.strokeStyle = ctx.fillStyle = color;
  ctx.lineWidth = 1.5 * px;
  ctx.setLineDash(dash.map((d) => d * px));
  ctx.beginPath();
  ctx.moveTo(at, top);
  ctx.lineTo(at, top + height);
  ctx.stroke();
  ctx.font = `${12 * px}px "Noto Sans", "DejaVu Sans", sans-serif`;
  const wide = ctx.measureText(name).width;
  const right = at + 4 * px + wide > left + width;
  ctx.textAlign = right ? "right" : "left";
  ctx.fillText(name, at + (right ? -4 : 4) * px, top + (13 + 14 * row) * px);
  ctx.restore();
}

// Keeps a chart as wide as its place; on paper as wide as paper is, in black.   returns  its undo
//   take  anew: the colors are others, too
export function widthOf(host: HTMLElement, take: (width: number, anew: boolean) => void): () => void {
  const paper = (on: boolean): void => {
    if (host.clientWidth === 0) return;
    onPaper = on;
    take(on ? Math.min(host.clientWidth, PAPER_WIDTH) : host.clientWidth, true);
  };
  const before = (): void => paper(true);
  const after = (): void => paper(false);
  addEventListener("beforeprint", before);
  addEventListener("afterprint", after);
  const observer = new ResizeObserver(() => {
    if (host.clientWidth > 0 && !onPaper) take(host.clientWidth, false);
  });
  observer.observe(host);
  return () => {
    observer.disconnect();
    removeEventListener("beforeprint", before);
    removeEventListener("afterprint", after);
  };
}
