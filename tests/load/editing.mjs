// A consultant who edits an option: each edit is a change of one control to a value it does not have, and is answered when the numbers of its revision, or of a later one, stand on the screen.
import { byName, revision } from './desk.mjs';

/** Whole numbers from 0 to below a limit, the same for the same seed (a multiplier of Lehmer's generator: Park and Miller 1988). */
export function dice(seed) {
  let state = seed % 2147483647 || 1;
  return below => {
    state = state * 48271 % 2147483647;
    return state % below;
  };
}

// Controls that stand open when the page opens, and what each may be set to. Together they make some million designs: hardly one has been calculated before.
const controls = [
  { name: 'fan-speed', values: Array.from({ length: 11 }, (_, tenth) => `${tenth}`) },
  { name: 'sleepers', values: ['1', '2', '3'] },
  { name: 'month', values: Array.from({ length: 12 }, (_, month) => `${month}`) },
  { name: 'shelter', values: ['0', '1', '2'] },
  { name: 'altitude', values: Array.from({ length: 150 }, (_, step) => `${10 * step + 7}`) },
];

/** The next edit of somebody: a control's name and its new value. */
export function edits(seed) {
  const roll = dice(seed);
  const last = new Map();
  return () => {
    const { name, values } = controls[roll(controls.length)];
    const others = values.filter(value => value !== last.get(name));
    const value = others[roll(others.length)];
    last.set(name, value);
    return { name, value };
  };
}

export class Editing {
  times = [];
  late = 0;
  #waiting = [];
  #next;
  #values = new Map();

  constructor(page, seed) {
    this.page = page;
    this.made = revision(page.screen);
    this.#next = edits(seed);
    for (const { name } of controls) {
      this.#values.set(name, byName(name)(page.screen).get('value'));
    }

    page.onBatch = () => {
      const shown = revision(page.screen);
      while (this.#waiting.length > 0 && this.#waiting[0].revision <= shown) {
        this.times.push(performance.now() - this.#waiting.shift().due);
      }
    };
  }

  get waits() {
    return this.#waiting.length;
  }

  /** Makes one edit that was due at a time. */
  edit(due) {
    let { name, value } = this.#next();
    while (this.#values.get(name) === value) {
      ({ name, value } = this.#next());
    }

    this.#values.set(name, value);
    this.#waiting.push({ revision: ++this.made, due });
    this.page.enter(byName(name)(this.page.screen), value);
  }

  /** Edits so many times a second until an hour strikes, whether or not what was asked before is answered; then waits for the last answers. */
  async run(perSecond, until, roll) {
    [this.times, this.late] = [[], 0];
    for (let due = performance.now() + 1000 / perSecond * roll(1000) / 1000; due < until; due += 1000 / perSecond * (0.5 + roll(1000) / 1000)) {
      await new Promise(done => { setTimeout(done, due - performance.now()); });
      this.edit(due);
    }

    await this.page.until(() => this.#waiting.length === 0, 10_000).catch(() => { this.late = this.#waiting.splice(0).length; });
  }

  /** What its controls were set to last. */
  get expected() {
    return this.#values;
  }
}

/** The values of those controls in a page that was opened anew. */
export const valuesOf = screen => new Map(controls.map(({ name }) => [name, byName(name)(screen).get('value')]));
