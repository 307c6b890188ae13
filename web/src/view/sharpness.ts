// sharpness.ts - how finely a stage is drawn. A graphics card smooths edges at no cost; where the processor has to draw,
// it draws coarsely while something moves and finely once it rests, so that movement stays fluent.

const REST_MS = 160;
const FINE = 2; // pixels drawn for each pixel shown, each way
const COARSE = 0.75;
const FINEST = 2; // of screens with small pixels

let slow: boolean | null = null;

const BY_THE_PROCESSOR = /swiftshader|llvmpipe|softpipe|software|basic render/i; // as browsers name such drawing

// Whether the browser draws without a graphics card.
export function drawsSlowly(): boolean {
  if (slow === null) {
    const context = document.createElement("canvas").getContext("webgl2");
    const named = context?.getExtension("WEBGL_debug_renderer_info");
    const name: unknown = named ? context?.getParameter(named.UNMASKED_RENDERER_WEBGL) : context?.getParameter(context.RENDERER);
    slow = BY_THE_PROCESSOR.test(String(name));
    context?.getExtension("WEBGL_lose_context")?.loseContext();
  }
  return slow;
}

export interface Sharpness {
  fine(): void; // before a picture that is to be looked at
  moving(): void; // before a picture that another one follows at once
  dispose(): void;
}

//   set     takes the ratio of drawn to shown pixels
//   redraw  draws what rests once more, finely
export function createSharpness(set: (ratio: number) => void, redraw: () => void): Sharpness {
  const smooth = !drawsSlowly();
  const screen = Math.min(window.devicePixelRatio, FINEST);
  let now = 0;
  let waiting = 0;
  const use = (ratio: number): void => {
    if (ratio !== now) set((now = ratio));
  };
  const fine = (): void => {
    clearTimeout(waiting);
    use(smooth ? screen : FINE);
  };
  return {
    fine,
    moving: () => {
      if (smooth) return fine();
      use(COARSE);
      clearTimeout(waiting);
      waiting = window.setTimeout(redraw, REST_MS);
    },
    dispose: () => clearTimeout(waiting),
  };
}
