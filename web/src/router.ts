// router.ts - deep links: "#/saw/center-block?batch=spring.toml" is a view, a part of it, and what it is about.

export interface Place {
  view: string;
  part: string;
  query: Record<string, string>;
}

// An address that was cut short or typed wrongly is a place that is not there, no error.
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

export function parsePlace(hash: string): Place {
  const [path = "", search = ""] = hash.replace(/^#\/?/, "").split("?");
  const [view = "", ...rest] = path.split("/").map(decoded);
  return { view, part: rest.join("/"), query: Object.fromEntries(new URLSearchParams(search)) };
}

export function hashOf(place: Partial<Place>): string {
  const path = [place.view ?? "", ...(place.part ? [place.part] : [])].map(encodeURIComponent).join("/");
  const search = new URLSearchParams(place.query ?? {}).toString();
  return `#/${path}${search ? `?${search}` : ""}`;
}

export function here(): Place {
  return parsePlace(location.hash);
}

export function go(place: Partial<Place>): void {
  location.hash = hashOf(place);
}

// Changes the address without a step in the browser's history.
export function note(place: Partial<Place>): void {
  history.replaceState(null, "", hashOf(place));
}
