// Talking to the desk: JSON both ways, refusals as errors with their words.

export class Refused extends Error {
  constructor(status, body) {
    super(body?.error?.words || `The desk answered ${status}.`);
    this.status = status;
    this.body = body || {};
    this.problems = body?.error?.problems || [];
    this.id = body?.id || "";
  }

  get said() {
    return this.id && this.status >= 500 ? `${this.message} (${this.id})` : this.message;
  }
}

function token() {
  const cookie = document.cookie.split("; ").find((one) => one.startsWith("csrftoken="));
  return cookie ? cookie.slice(10) : document.querySelector('meta[name="csrf-token"]')?.content || "";
}

async function read(answer) {
  if (answer.status === 204) return null;
  const kind = answer.headers.get("content-type") || "";
  if (kind.includes("json")) return answer.json();
  return answer.text();
}

export async function call(method, url, body, { signal } = {}) {
  const headers = { Accept: "application/json" };
  if (method !== "GET") headers["X-CSRFToken"] = token();
  if (body !== undefined) headers["Content-Type"] = "application/json";
  let answer;
  try {
    answer = await fetch(url, {
      method, headers, signal, credentials: "same-origin", body: body === undefined ? undefined : JSON.stringify(body),
    });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new Refused(0, { error: { words: "The desk does not answer. Is it still running?" } });
  }
  const got = await read(answer).catch(() => null);
  if (!answer.ok) throw new Refused(answer.status, typeof got === "object" ? got : null);
  return got;
}

export const get = (url, options) => call("GET", url, undefined, options);
export const post = (url, body, options) => call("POST", url, body ?? {}, options);
export const put = (url, body, options) => call("PUT", url, body, options);
