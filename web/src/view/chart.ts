// chart.ts - a chart on a canvas: as wide as its host, in the colors of the page, on paper in black on white.
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";

const NAMES = {
  paper: "--paper", sheet: "--sheet", ink: "--ink", soft: "--soft", rule: "--rule", accent: "--accent", focus: "--focus",
  good: "--good", warn: "--warn", bad: "--bad", goodBack: "--good-back", warnBack: "--warn-back", badBack: "--bad-back",
} as const;
export type Colors = Record<keyof typeof NAMES, string>;

export function colorsOf(element: Element): Colors {
  const style = getComputedStyle(element);
  return Object.fromEntries(
    Object.entries(NAMES).map(([name, property]) => [name, style.getPropertyValue(property).trim()]),
  ) as Colors;
}

export interface ChartParts {
  height: number; // CSS pixels
  data: uPlot.AlignedData;
  // Colors are asked for whenever something is drawn: they change with the light.
  options(colors: () => Colors): Omit<uPlot.Options, "width" | "height">;
}

export interface Chart {
  plot: uPlot;
  redraw(): void; // something that is drawn, but no data, changed
  undo(): void;
}

const PAPER_WIDTH = 640; // CSS pixels: inside the margins of A4 and of letter paper

// Everything that changes the colors: the choice of the page, that of the machine, paper.
function onColors(again: () => void, paper: (on: boolean) => void): () => void {
  const theme = new MutationObserver(again);
  theme.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
  const machine = matchMedia("(prefers-color-scheme: dark)");
  const before = (): void => paper(true);
  const after = (): void => paper(false);
  machine.addEventListener("change", again);
  addEventListener("beforeprint", before);
  addEventListener("afterprint", after);
  return () => {
    theme.disconnect();
    machine.removeEventListener("change", again);
    removeEventListener("beforeprint", before);
    removeEventListener("afterprint", after);
  };
}

const ON_PAPER: Colors = {
  paper: "#fff", sheet: "#fff", ink: "#000", soft: "#333", rule: "#999", accent: "#000", focus: "#000",
  good: "#000", warn: "#000", bad: "#000", goodBack: "#eee", warnBack: "#eee", badBack: "#eee",
};

//   host  in the document
export function drawChart(host: HTMLElement, parts: ChartParts): Chart {
  let colors = colorsOf(host);
  const width = (): number => Math.max(120, Math.floor(host.clientWidth));
  const options = { ...parts.options(() => colors), width: width(), height: parts.height };
  const plot = new uPlot(options, parts.data, host);

  // At once, not when the browser finds time: paper does not wait.
  const draw = (w: number): void =>
    plot.batch(() => {
      if (w === plot.width) plot.redraw(false, true);
      else plot.setSize({ width: w, height: parts.height });
    });
  const again = (): void => {
    colors = colorsOf(host);
    draw(width());
  };
  const paper = (on: boolean): void => {
    colors = on ? ON_PAPER : colorsOf(host);
    draw(on ? Math.min(width(), PAPER_WIDTH) : width());
  };
  const sizes = new ResizeObserver(() => {
    if (host.clientWidth > 0 && width() !== plot.width) draw(width());
  });
  sizes.observe(host);
  const undoColors = onColors(again, paper);
  return {
    plot,
    redraw: () => plot.redraw(false, false),
    undo: () => {
      sizes.disconnect();
      undoColors();
      plot.destroy();
    },
  };
}
