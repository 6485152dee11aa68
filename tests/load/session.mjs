// A visitor's cookies, and the forms of pages without a script.
import { Agent, request } from 'node:http';

const agent = new Agent({ keepAlive: true, maxSockets: 64 });

/** One request, whole answer: status, headers, body as text unless packed. */
export function ask(address, { method = 'GET', headers = {}, body } = {}) {
  return new Promise((resolve, refuse) => {
    const sent = request(address, { method, headers: body === undefined ? headers : { ...headers, 'content-length': Buffer.byteLength(body) }, agent }, answer => {
      const parts = [];
      answer.on('data', part => parts.push(part));
      answer.on('end', () => resolve({ status: answer.statusCode, headers: answer.headers, body: Buffer.concat(parts) }));
      answer.on('error', refuse);
    });
    sent.on('error', refuse);
    sent.end(body);
  });
}

const decoded = text => text.replace(/&quot;/g, '"').replace(/&#x([0-9A-Fa-f]+);/g, (_, hex) => String.fromCodePoint(parseInt(hex, 16))).replace(/&lt;/g, '<').replace(/&gt;/g, '>').replace(/&amp;/g, '&');

export class Session {
  #cookies = new Map();

  constructor(address) {
    this.address = address;
  }

  get cookie() {
    return [...this.#cookies].map(([name, value]) => `${name}=${value}`).join('; ');
  }

  /** A page, after following where it sends the visitor. */
  async get(path) {
    return await this.#follow(path, await this.#send(path, {}));
  }

  /** Fills the named form of a page and sends it. */
  async post(path, handler, fields) {
    const page = await this.get(path);
    const form = [...page.text.matchAll(/<form\b[^>]*>[\s\S]*?<\/form>/g)].map(match => match[0]).find(text => text.includes(`name="_handler" value="${handler}"`));
    if (form === undefined) {
      throw new Error(`${path} has no form "${handler}" (it answered ${page.status}).`);
    }

    const hidden = [...form.matchAll(/<input\b[^>]*type="hidden"[^>]*>/g)].map(match => [/name="([^"]*)"/.exec(match[0])[1], decoded(/value="([^"]*)"/.exec(match[0])?.[1] ?? '')]);
    const body = new URLSearchParams([...hidden, ...Object.entries(fields)]).toString();
    return await this.#follow(path, await this.#send(path, { method: 'POST', body, headers: { 'content-type': 'application/x-www-form-urlencoded' } }));
  }

  async #send(path, { headers = {}, ...how }) {
    const answer = await ask(new URL(path, this.address + '/'), { ...how, headers: { ...headers, cookie: this.cookie } });
    for (const line of answer.headers['set-cookie'] ?? []) {
      const [, name, value] = /^([^=]+)=([^;]*)/.exec(line);
      this.#cookies.set(name, value);
    }

    return answer;
  }

  async #follow(path, answer) {
    for (let hops = 0; answer.status >= 300 && answer.status < 400 && hops < 5; hops++) {
      path = answer.headers.location;
      answer = await this.#send(path, {});
    }

    return { status: answer.status, path, text: answer.body.toString('utf8') };
  }
}
