// api-file.ts - holds replies to docs/api.yaml.
import Ajv2020 from "ajv/dist/2020.js";
import type { ValidateFunction } from "ajv";
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { parse } from "yaml";

interface ApiResponse {
  $ref?: string; // of components/responses
  content?: Record<string, { schema?: object }>;
}
interface ApiFile {
  paths: Record<string, Record<string, { responses: Record<string, ApiResponse> }>>;
  components: { responses: Record<string, ApiResponse> };
}

const FILE = resolve(import.meta.dirname, "../../../../docs/api.yaml");
export const apiFile = parse(readFileSync(FILE, "utf8")) as ApiFile;

const ajv = new Ajv2020({ strict: false, allErrors: true });
ajv.addSchema({ $id: "api.yaml", ...apiFile });
const compiled = new Map<string, ValidateFunction>();

function escaped(token: string): string {
  return encodeURIComponent(token.replace(/~/g, "~0").replace(/\//g, "~1"));
}

function pathFor(path: string): string | undefined {
  if (path in apiFile.paths) return path;
  const parts = path.split("/");
  return Object.keys(apiFile.paths).find((p) => {
    const own = p.split("/");
    return own.length === parts.length && own.every((o, i) => o === parts[i] || /^\{.*\}$/.test(o));
  });
}

// What is wrong with a JSON reply, one line each; nothing when it is as the file says.
export function replyProblems(method: string, path: string, status: number, body: unknown): string[] {
  const at = pathFor(path);
  const operation = at ? apiFile.paths[at]?.[method.toLowerCase()] : undefined;
  if (!at || !operation) return [`${method} ${path} is not in the API file`];
  const key = operation.responses[String(status)] ? String(status) : "default";
  const shared = operation.responses[key]?.$ref?.replace("#/components/responses/", "");
  const response = shared ? apiFile.components.responses[shared] : operation.responses[key];
  if (!response?.content?.["application/json"]?.schema) return [`${method} ${at}: status ${status} has no schema`];
  const where = shared ? ["components", "responses", shared] : ["paths", at, method.toLowerCase(), "responses", key];
  const tokens = [...where, "content", "application/json", "schema"];
  const pointer = `api.yaml#/${tokens.map(escaped).join("/")}`;
  let validate = compiled.get(pointer);
  if (!validate) compiled.set(pointer, (validate = ajv.compile({ $ref: pointer })));
  if (validate(body)) return [];
  return (validate.errors ?? []).slice(0, 5).map((e) => `${method} ${at} ${status}: ${e.instancePath} ${e.message}`);
}
