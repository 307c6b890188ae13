// words.ts - dates, times and woods as they are written on the page.

export function hoursText(hours: number): string {
  const minutes = Math.round(hours * 60);
  const whole = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (whole === 0) return `${rest} min`;
  return rest === 0 ? `${whole} h` : `${whole} h ${String(rest).padStart(2, "0")} min`;
}

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

// "2031-01-28" as "28 Jan 2031"; a time after it is kept: "28 Jan 2031, 18:40".
export function dateText(stamp: string): string {
  const [date = "", time] = stamp.split("T");
  const [year, month, day] = date.split("-");
  const text = `${Number(day)} ${MONTHS[Number(month) - 1] ?? ""} ${year}`;
  return time ? `${text}, ${time}` : text;
}

// Five tones from light to dark: each wood by how light it is drawn, a darker one where a lighter wood has its tone.
export function woodClasses(woods: readonly { wood: string; lightness: number }[]): Map<string, string> {
  const classes = new Map<string, string>();
  let free = 0;
  for (const w of [...woods].sort((a, b) => b.lightness - a.lightness)) {
    const own = [0.8, 0.64, 0.48, 0.37].findIndex((least) => w.lightness >= least);
    const tone = Math.min(4, Math.max(free, own < 0 ? 4 : own));
    classes.set(w.wood, `wood-${tone}`);
    free = tone + 1;
  }
  return classes;
}

export function plural(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}
