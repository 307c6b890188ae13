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

// The lightness that stands for a wood: its place among the batch's woods, in the order of their names.
export function woodClass(wood: string, woods: readonly string[]): string {
  return `wood-${Math.max(0, woods.indexOf(wood)) % 5}`;
}

export function plural(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}
