// What a live page shows, without a browser: the tree of elements, kept from the render batches of the circuit as the page's own script keeps its document.
// The batch is binary: tables of 32-bit numbers in little-endian order whose places stand in its last twenty bytes, texts in a table by number.

const Edit = { prependFrame: 1, removeFrame: 2, setAttribute: 3, removeAttribute: 4, updateText: 5, stepIn: 6, stepOut: 7, updateMarkup: 8, permutationListEntry: 9, permutationListEnd: 10 };
const Frame = { element: 1, text: 2, attribute: 3, component: 4, region: 5, elementReferenceCapture: 6, markup: 8, namedEvent: 10 };
const [editBytes, frameBytes] = [16, 20];

class Batch {
  constructor(bytes) {
    this.bytes = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const end = this.bytes.length;
    [this.components, this.frames, this.goneComponents, , this.texts] = [20, 16, 12, 8, 4].map(before => this.int(end - before));
  }

  int(at) {
    return this.bytes.readInt32LE(at);
  }

  /** A text by where its number stands; null for none. */
  text(at) {
    const number = this.int(at);
    if (number === -1) {
      return null;
    }

    let from = this.int(this.texts + 4 * number);
    let length = 0;
    let shift = 0;
    let part;
    do {
      part = this.bytes[from++];
      length |= (part & 127) << shift;
      shift += 7;
    } while (part > 127);
    return this.bytes.toString('utf8', from, from + length);
  }

  frame(index) {
    return this.frames + 4 + frameBytes * index;
  }

  /** How many frames a frame takes with all below it. */
  spanOf(frame) {
    const type = this.int(frame);
    return type === Frame.element || type === Frame.component || type === Frame.region ? this.int(frame + 4) : 1;
  }
}

class Node {
  children = [];
  parent = null;

  constructor(kind, text = null) {
    this.kind = kind;
    this.text = text;
  }

  insert(index, child) {
    child.parent = this;
    this.children.splice(index, 0, child);
    return child;
  }
}

class Element extends Node {
  attributes = new Map();

  // By the name of the event: number of the handler, and the component that made it.
  events = new Map();

  constructor(name) {
    super('element');
    this.name = name;
  }

  get(attribute) {
    return this.attributes.get(attribute) ?? null;
  }

  has(word) {
    return (this.get('class') ?? '').split(' ').includes(word);
  }
}

export class Screen {
  #components = new Map();

  /** Where a root of the page is. */
  attach(component) {
    this.#components.set(component, new Node('component'));
  }

  /** Takes a batch in. */
  apply(bytes) {
    const batch = new Batch(bytes);
    for (let i = 0; i < batch.int(batch.components); i++) {
      const diff = batch.int(batch.components + 4 + 4 * i);
      const id = batch.int(diff);
      const component = this.#components.get(id);
      if (component === undefined) {
        throw new Error(`The batch changes component ${id}, which was never shown.`);
      }

      this.#edit(batch, component, id, diff + 8, batch.int(diff + 4));
    }

    for (let i = 0; i < batch.int(batch.goneComponents); i++) {
      this.#components.delete(batch.int(batch.goneComponents + 4 + 4 * i));
    }
  }

  /** All elements a test is true of, in the order of the page. */
  * all(test) {
    for (const root of this.#roots()) {
      yield* within(root, test);
    }
  }

  /** The first such element, or null. */
  first(test) {
    return this.all(test).next().value ?? null;
  }

  * #roots() {
    for (const component of this.#components.values()) {
      if (component.parent === null) {
        yield component;
      }
    }
  }

  #edit(batch, component, id, from, count) {
    let at = component;
    let moves = [];
    for (let edit = from; edit < from + editBytes * count; edit += editBytes) {
      const sibling = batch.int(edit + 4);
      const third = batch.int(edit + 8);
      switch (batch.int(edit)) {
        case Edit.prependFrame:
          this.#insert(batch, id, at, sibling, third);
          break;
        case Edit.removeFrame:
          at.children.splice(sibling, 1)[0].parent = undefined;
          break;
        case Edit.setAttribute:
          setAttribute(batch, id, at.children[sibling], batch.frame(third));
          break;
        case Edit.removeAttribute: {
          const name = batch.text(edit + 12);
          at.children[sibling].attributes.delete(name);
          at.children[sibling].events.delete(name.slice(2));
          break;
        }
        case Edit.updateText:
        case Edit.updateMarkup:
          at.children[sibling].text = batch.text(batch.frame(third) + 4);
          break;
        case Edit.stepIn:
          at = at.children[sibling];
          break;
        case Edit.stepOut:
          at = at.parent;
          break;
        case Edit.permutationListEntry:
          moves.push({ node: at.children[sibling], to: third });
          break;
        case Edit.permutationListEnd:
          for (const { node, to } of moves) {
            at.children[to] = node;
          }
          moves = [];
          break;
        default:
          throw new Error(`Edit ${batch.int(edit)} of a batch is not known.`);
      }
    }
  }

  /** Inserts a frame with all below it. Returns how many siblings it made. */
  #insert(batch, id, parent, index, number) {
    const frame = batch.frame(number);
    switch (batch.int(frame)) {
      case Frame.element: {
        const element = parent.insert(index, new Element(batch.text(frame + 8)));
        const end = number + batch.int(frame + 4);
        let next = number + 1;
        for (; next < end && batch.int(batch.frame(next)) === Frame.attribute; next++) {
          setAttribute(batch, id, element, batch.frame(next));
        }

        this.#insertAll(batch, id, element, 0, next, end);
        return 1;
      }
      case Frame.component:
        this.#components.set(batch.int(frame + 8), parent.insert(index, new Node('component')));
        return 1;
      case Frame.region:
        return this.#insertAll(batch, id, parent, index, number + 1, number + batch.int(frame + 4));
      case Frame.text:
        parent.insert(index, new Node('text', batch.text(frame + 4)));
        return 1;
      case Frame.markup:
        parent.insert(index, new Node('markup', batch.text(frame + 4)));
        return 1;
      case Frame.elementReferenceCapture:
      case Frame.namedEvent:
        return 0;
      default:
        throw new Error(`Frame ${batch.int(frame)} of a batch is not known.`);
    }
  }

  #insertAll(batch, id, parent, index, from, end) {
    let made = 0;
    for (let number = from; number < end; number += batch.spanOf(batch.frame(number))) {
      made += this.#insert(batch, id, parent, index + made, number);
    }

    return made;
  }
}

function setAttribute(batch, id, element, frame) {
  const name = batch.text(frame + 4);
  const handler = batch.bytes.readBigUInt64LE(frame + 12);
  if (handler !== 0n) {
    element.events.set(name.slice(2), { handler: Number(handler), component: id });
  } else {
    element.attributes.set(name, batch.text(frame + 8));
  }
}

/** All elements below a node a test is true of. */
export function* within(node, test) {
  for (const child of node.children) {
    if (child.kind === 'element' && test(child)) {
      yield child;
    }

    yield* within(child, test);
  }
}

/** What is written in a node, one space where there is room. */
export function textOf(node) {
  const parts = [];
  (function read(at) {
    if (at.text !== null) {
      parts.push(at.kind === 'markup' ? at.text.replace(/<[^>]*>/g, ' ') : at.text);
    }

    at.children.forEach(read);
  })(node);
  return parts.join('').replace(/\s+/g, ' ').trim();
}
