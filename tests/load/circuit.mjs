// A page of the desk without a browser: it opens the circuit as the page's script does, takes render batches in and acknowledges them, answers what the server asks of
// the browser's scripts, and sends events. Nothing is drawn, so hundreds fit beside the server they load.
import { decode, encode } from '@msgpack/msgpack';
import WebSocket from 'ws';
import { Screen } from './screen.mjs';
import { ask } from './session.mjs';

const Message = { invocation: 1, completion: 3, ping: 6, close: 7 };
const Result = { value: 0, object: 1, stream: 2, nothing: 3 };
const keepAlive = 10_000;

// What scripts answer that a page waits for. All others are asked to do something and give nothing back.
const answers = {
  minutesFromUtc: () => 0,
  timeZone: () => 'UTC',
  recall: () => null,
  'Blazor._internal.navigationManager.enableNavigationInterception': () => null,
  'Blazor._internal.PageTitle.getAndRemoveExistingTitle': () => null,
  'window.hasOwnProperty': () => true,
  'mudpopoverHelper.countProviders': () => 1,
};

export class Circuit {
  screen = new Screen();
  bytes = 0;

  /** Why it cannot go on, or null. */
  failure = null;

  #id;
  #socket;
  #calls = new Map();
  #lastCall = 0;
  #objects = 0;
  #interop = null;
  #waiting = new Set();

  /** Opens a page of the desk and waits for what a test of its screen finds. */
  static async open(session, path, test) {
    const page = await session.get(path);
    const markers = [...page.text.matchAll(/<!--Blazor:(\{.*?\})-->/gs)].map(match => JSON.parse(match[1])).filter(marker => marker.type === 'server');
    if (page.status !== 200 || markers.length === 0) {
      throw new Error(`${path} is no live page: it answered ${page.status}.`);
    }

    const circuit = new Circuit();
    circuit.location = new URL(page.path, session.address + '/').href;
    circuit.session = session;
    await circuit.#connect(markers, /<!--Blazor-Server-Component-State:(.*?)-->/s.exec(page.text)?.[1] ?? '');
    await circuit.until(test);
    return circuit;
  }

  /** Waits until a test of the screen is true, and returns what it found. */
  until(test, within = 60_000) {
    return new Promise((resolve, refuse) => {
      const wait = { look: () => {
        const found = this.failure === null && test(this.screen);
        if (this.failure !== null || found) {
          this.#waiting.delete(wait);
          clearTimeout(late);
          this.failure === null ? resolve(found) : refuse(this.failure);
        }
      } };
      const late = setTimeout(() => {
        this.#waiting.delete(wait);
        refuse(new Error(`After ${within / 1000} s at ${this.location} the screen still does not show: ${test}`));
      }, within);
      this.#waiting.add(wait);
      wait.look();
    });
  }

  /** Calls after every batch that was taken in. */
  onBatch = () => { };

  /** Calls when the circuit has failed. */
  onFailure = () => { };

  click(element) {
    this.#dispatch(element, 'click', { type: 'click', detail: 1, button: 0, buttons: 0 });
  }

  submit(element) {
    this.#dispatch(element, 'submit', { type: 'submit' });
  }

  /** What a person does at a control: the value, and at its end the change. Which events are heard is the page's business. */
  enter(element, value) {
    for (const name of ['input', 'change']) {
      if (element.events.has(name)) {
        this.#dispatch(element, name, { value }, value);
      }
    }
  }

  /** Leaves the page, and tells the server as a browser does, so that it need not wait for a return. */
  async close() {
    clearInterval(this.pinging);
    this.closing = true;
    this.#socket.close();
    await ask(this.session.address + '/_blazor/disconnect', {
      method: 'POST', headers: { cookie: this.session.cookie, 'content-type': 'application/x-www-form-urlencoded' }, body: new URLSearchParams({ circuitId: this.#id }).toString(),
    });
  }

  #dispatch(element, name, args, value) {
    const heard = element.events.get(name);
    if (heard === undefined) {
      throw new Error(`Nothing hears "${name}" of <${element.name} name="${element.get('name')}">.`);
    }

    const field = value === undefined ? null : { componentId: heard.component, fieldValue: value };
    const call = `${++this.#lastCall}`;
    this.#send('BeginInvokeDotNetFromJS', call, null, 'DispatchEventAsync', this.#interop, JSON.stringify([{ eventHandlerId: heard.handler, eventName: name, eventFieldInfo: field }, args]));
  }

  async #connect(markers, state) {
    this.#socket = new WebSocket(this.session.address.replace(/^http/, 'ws') + '/_blazor', { headers: { cookie: this.session.cookie, origin: this.session.address }, maxPayload: 0 });
    this.#socket.binaryType = 'nodebuffer';
    await new Promise((resolve, refuse) => {
      this.#socket.once('open', resolve);
      this.#socket.once('error', refuse);
    });
    this.#socket.on('error', error => this.#fail(error.message));
    this.#socket.on('close', code => this.closing || this.#fail(`The connection was closed (${code}).`));
    const shaken = new Promise(resolve => this.#socket.once('message', resolve));
    this.#socket.send('{"protocol":"blazorpack","version":1}\x1e');
    const answer = JSON.parse((await shaken).toString('utf8').split('\x1e')[0]);
    if (answer.error) {
      throw new Error(answer.error);
    }

    this.#socket.on('message', data => this.#read(data));
    this.pinging = setInterval(() => this.#write([Message.ping]), keepAlive);
    this.#id = await new Promise(resolve => {
      this.#calls.set('0', resolve);
      this.#write([Message.invocation, {}, '0', 'StartCircuit', [this.session.address + '/', this.location, '[]', state], []]);
    });
    if (!this.#id) {
      throw new Error('The circuit was refused.');
    }

    const operations = markers.map((marker, index) => ({ type: 'add', ssrComponentId: index + 1, marker: { ...marker, uniqueId: index } }));
    this.#send('UpdateRootComponents', JSON.stringify({ batchId: 1, operations }), state);
  }

  #write(message) {
    const body = encode(message);
    const length = [];
    let left = body.length;
    do {
      length.push((left & 127) | (left > 127 ? 128 : 0));
      left >>>= 7;
    } while (left > 0);
    this.#socket.send(Buffer.concat([Buffer.from(length), body]));
  }

  #send(target, ...args) {
    this.#write([Message.invocation, {}, null, target, args, []]);
  }

  #read(data) {
    this.bytes += data.length;
    for (let at = 0; at < data.length;) {
      let length = 0;
      let shift = 0;
      let part;
      do {
        part = data[at++];
        length |= (part & 127) << shift;
        shift += 7;
      } while (part > 127);
      try {
        this.#take(decode(data.subarray(at, at + length)));
      } catch (error) {
        this.#fail(error.stack);
      }

      at += length;
    }
  }

  #take(message) {
    const [type, , invocation, target, args] = message;
    switch (type) {
      case Message.ping:
        break;
      case Message.close:
        this.#fail(`The server closed the circuit: ${message[1] ?? 'it gives no reason'}`);
        break;
      case Message.completion:
        // Its fourth part is the kind of the result: 1 is an error.
        target === 1 ? this.#fail(args) : this.#calls.get(invocation)?.(args);
        this.#calls.delete(invocation);
        break;
      case Message.invocation:
        this.#called(target, args);
        break;
      default:
        throw new Error(`Message ${type} is not known.`);
    }
  }

  #called(target, args) {
    switch (target) {
      case 'JS.AttachComponent':
        this.screen.attach(args[0]);
        break;
      case 'JS.RenderBatch':
        this.screen.apply(args[1]);
        this.#send('OnRenderCompleted', args[0], null);
        this.onBatch();
        for (const wait of [...this.#waiting]) {
          wait.look();
        }
        break;
      case 'JS.BeginInvokeJS':
        this.#answer(...args);
        break;
      case 'JS.EndInvokeDotNet':
        if (!args[1]) {
          this.#fail(`An event failed: ${args[2]}`);
        }
        break;
      case 'JS.Error':
        this.#fail(args[0]);
        break;
      case 'JS.EndUpdateRootComponents':
      case 'JS.EndLocationChanging':
      case 'JS.SavePersistedState':
        break;
      default:
        throw new Error(`The server called ${target}, which is not known.`);
    }
  }

  #answer(task, name, text, kind) {
    const args = JSON.parse(text ?? '[]');
    if (name === 'Blazor._internal.attachWebRendererInterop') {
      this.#interop = args[1].__dotNetObject;
    } else if (name === 'Blazor._internal.navigationManager.navigateTo') {
      this.location = new URL(args[0], this.session.address + '/').href;
      this.#send('OnLocationChanged', this.location, null, false);
    }

    if (task === 0) {
      return;
    }

    const [known, value] = kind === Result.object ? [true, { __jsObjectId: ++this.#objects }]
      : name in answers ? [true, answers[name](...args)]
        : [kind === Result.nothing, null];
    this.#send('EndInvokeJSFromDotNet', task, known, JSON.stringify([task, known, known ? value : `${name} is not known here.`]));
    if (!known) {
      this.#fail(`The server waits for what the script ${name} answers, which is not known here.`);
    }
  }

  #fail(message) {
    if (this.failure === null) {
      this.failure = new Error(message);
      this.onFailure();
      for (const wait of [...this.#waiting]) {
        wait.look();
      }
    }
  }
}
