// Requests to the server that served this page.

export class Refused extends Error {
  constructor(status, body) { super(body.error ?? String(status)); this.status = status; this.body = body; }
}

export async function ask(path, body, options = {}) {
  const response = await fetch("api/v1/" + path, {
    method: options.method ?? (body === undefined ? "GET" : "POST"),
    headers: { ...(body === undefined ? {} : { "Content-Type": "application/json" }), ...options.headers },
    body: body === undefined ? undefined : JSON.stringify(body),
    signal: options.signal,
  });
  if (!response.ok) throw new Refused(response.status, await response.json().catch(() => ({})));
  return options.blob ? response.blob() : response.json();
}

// lines calls each for every JSON line of an answer that grows.
export async function lines(path, body, signal, each) {
  const form = body instanceof FormData;
  const response = await fetch("api/v1/" + path, { method: "POST", headers: form ? {} : { "Content-Type": "application/json" }, body: form ? body : JSON.stringify(body), signal });
  if (!response.ok) throw new Refused(response.status, await response.json().catch(() => ({})));
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { value, done } = await reader.read();
    if (done) return;
    rest += value;
    const parts = rest.split("\n");
    rest = parts.pop();
    for (const part of parts) if (part) each(JSON.parse(part));
  }
}

// newest keeps one request under way and, of those that wait, the newest only.
export function newest(work) {
  let running = false, waiting = null;
  return async function run(...args) {
    if (running) { waiting = args; return; }
    running = true;
    try { await work(...args); } finally {
      running = false;
      if (waiting) { const next = waiting; waiting = null; run(...next); }
    }
  };
}
