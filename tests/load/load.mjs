// Many at once on one desk: consultants who edit, searches asked for, clients who read a plan, idle tabs. All are light circuits (circuit.mjs), since a browser of each would take the
// processors the desk works on; one Chromium page alone is held against one light circuit alone. Prints a page in Markdown; any error of a circuit ends it.
//   node load.mjs ADDRESS PROCESS SEARCHES SECONDS
import { execFile } from 'node:child_process';
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { promisify } from 'node:util';
import { Worker } from 'node:worker_threads';
import { chromium } from 'playwright-core';
import { Circuit } from './circuit.mjs';
import { askForSearches, lookAround, newLinks, revision, signIn, workspace } from './desk.mjs';
import { dice, Editing, edits, valuesOf } from './editing.mjs';
import { at, probe, signIn as signInBrowser } from './probe.mjs';

const [address, process_] = process.argv.slice(2);
const [searches, seconds] = process.argv.slice(4).map(Number);
const seed = Number(process.env.LOAD_SEED ?? 20261130);
const alone = 40;
const roll = dice(seed);
const wait = ms => new Promise(done => { setTimeout(done, ms); });
const say = text => console.error(`${new Date().toISOString().slice(11, 19)} ${text}`);
const ms = (values, share) => values.length ? at(values, share).toFixed(0) : '–';

const resident = () => Number(/^VmRSS:\s+(\d+)/m.exec(readFileSync(`/proc/${process_}/status`, 'utf8'))[1]) / 1024;

/** Seconds of a processor the desk has taken. */
function processor() {
  const stat = readFileSync(`/proc/${process_}/stat`, 'utf8');
  const [user, system] = stat.slice(stat.lastIndexOf(')') + 2).split(' ').slice(11, 13).map(Number);
  return (user + system) / 100;
}

/** Of these, what the threads took that serve pages, edits, saves and reads; the rest are years, ranges, searches, the collector and the compiler. */
function pool() {
  const ticks = readdirSync(`/proc/${process_}/task`).map(thread => {
    try {
      const stat = readFileSync(`/proc/${process_}/task/${thread}/stat`, 'utf8');
      const [user, system] = stat.slice(stat.lastIndexOf(')') + 2).split(' ').slice(11, 13).map(Number);
      return stat.includes('(.NET TP Worker)') ? user + system : 0;
    } catch (error) {
      // A thread that has ended since.
      if (error.code === 'ENOENT' || error.code === 'ESRCH') {
        return 0;
      }

      throw error;
    }
  });
  return ticks.reduce((sum, each) => sum + each, 0) / 100;
}

/**
 * Megabytes of live objects: a dump has the desk make a full collection, then its own numbers of the last collection are read, what stands without the holes. The dump's count of
 * objects is not used: a runtime before .NET 11 drops some while it is busy. Circuits must answer meanwhile, so nothing blocks here.
 */
async function heap() {
  const [dump, table] = ['heap.gcdump', 'heap.csv'].map(name => `${process.env.LOAD_FOLDER}/${name}`);
  const tool = (...args) => promisify(execFile)('dotnet', ['tool', 'run', ...args]);
  await tool('dotnet-gcdump', 'collect', '--process-id', process_, '--timeout', '120', '--output', dump);
  await tool('dotnet-counters', 'collect', '--process-id', process_, '--refresh-interval', '1', '--duration', '00:00:03', '--format', 'csv', '--output', table,
    '--counters', 'System.Runtime[dotnet.gc.last_collection.heap.size,dotnet.gc.last_collection.heap.fragmentation.size]');
  const last = new Map([...readFileSync(table, 'utf8').matchAll(/heap\.(fragmentation\.)?size \(By\)\[gc\.heap\.generation=(\w+)\],Metric,(\d+)/g)]
    .map(([, holes, generation, bytes]) => [`${generation} ${holes ?? ''}`, (holes ? -1 : 1) * Number(bytes)]));
  rmSync(dump);
  rmSync(table);
  if (!last.has('gen2 ') || !last.has('loh ')) {
    throw new Error('The desk told no size of its heap.');
  }

  return [...last.values()].reduce((sum, bytes) => sum + bytes) / 2 ** 20;
}

const read = (links, perSecond, milliseconds, word) => new Promise((resolve, refuse) => {
  const worker = new Worker(new URL('./readers.mjs', import.meta.url), { workerData: { links, perSecond, milliseconds, word } });
  worker.once('message', resolve);
  worker.once('error', refuse);
});

const owner = await signIn(address);
const { vans, plan } = await lookAround(owner);
say(`the desk has the vans ${vans.map(van => van.name).join(', ')}`);

// One page alone: light, then in Chromium, the same kinds of edits; from the message with the edit to the one with its numbers.
async function lightAlone() {
  const page = await workspace(owner, vans[0].path, 'Alone');
  await wait(5000);
  const editing = new Editing(page, seed);
  // What comes first is compiled first: not counted.
  for (let edit = -15; edit < alone; edit++) {
    if (edit === 0) {
      editing.times = [];
    }

    editing.edit(performance.now());
    await page.until(() => editing.waits === 0);
    await wait(150 + 37 * ((edit + 18) % 9));
  }

  await page.close();
  return editing.times;
}

async function browserAlone() {
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' })).newPage();
  page.setDefaultTimeout(60_000);
  await page.addInitScript(probe);
  await signInBrowser(page, address);
  await page.goto(new URL(vans[0].path, address + '/').href);
  await page.locator('.headlines[data-revision]').waitFor();
  await wait(5000);
  const next = edits(seed);
  const times = [];
  for (let edit = -5; edit < alone; edit++) {
    let change = next();
    while (await page.locator(`.pane-inputs [name="${change.name}"]`).first().inputValue() === change.value) {
      change = next();
    }

    const result = await page.evaluate(({ name, value }) => globalThis.edit(() => {
      const control = document.querySelector(`.pane-inputs [name="${name}"]`);
      control.value = value;
      for (const kind of ['input', 'change']) {
        control.dispatchEvent(new Event(kind, { bubbles: true }));
      }
    }), change);
    if (edit >= 0) {
      times.push(result.server);
    }

    await wait(150 + 37 * ((edit + 9) % 9));
  }

  await browser.close();
  return times;
}

const light = await lightAlone();
say(`alone: p50 ${ms(light, 0.5)} ms, p95 ${ms(light, 0.95)} ms`);
const heavy = await browserAlone();
say(`alone in Chromium: p50 ${ms(heavy, 0.5)} ms, p95 ${ms(heavy, 0.95)} ms`);

const open = [];
const idle = [];
const results = [];
const memory = [];
let stillGoing = async () => 0;
const broken = () => {
  for (const page of [...open.map(editing => editing.page), ...idle]) {
    if (page.failure !== null) {
      throw page.failure;
    }
  }
};

async function round(perSecond, length, perSecondRead) {
  const going = await stillGoing();
  const [desk, served, self] = [processor(), pool(), process.cpuUsage()];
  const loop = monitorEventLoopDelay({ resolution: 5 });
  loop.enable();
  const began = performance.now();
  const until = began + length;
  const bytes = open.map(editing => editing.page.bytes);
  const [reading] = await Promise.all([
    perSecondRead > 0 ? read(links, perSecondRead, length, '<h1') : { times: [], refused: 0, failed: [], bytes: 0 },
    ...open.map(editing => editing.run(perSecond / open.length, until, roll)),
  ]);
  loop.disable();
  broken();
  if (reading.failed.length > 0) {
    throw new Error(`Of the plan reads ${reading.failed.length} failed, the first with: ${reading.failed[0]}`);
  }

  const took = (performance.now() - began) / 1000;
  const times = open.flatMap(editing => editing.times);
  const late = open.reduce((sum, editing) => sum + editing.late, 0);
  const result = {
    pages: open.length, idle: idle.length, asked: perSecond, edits: times.length + late, times, late, reading, took, searches: going,
    desk: (processor() - desk) / took, pool: (pool() - served) / took, self: Object.values(process.cpuUsage(self)).reduce((sum, part) => sum + part) / 1e6 / took,
    loop: loop.percentile(95) / 1e6 - 5, perEdit: open.reduce((sum, editing, index) => sum + editing.page.bytes - bytes[index], 0) / 1024 / Math.max(1, times.length),
    resident: resident(),
  };
  say(`${open.length} pages, ${perSecond} edits a second: ${times.length} answered, p50 ${ms(times, 0.5)}, p95 ${ms(times, 0.95)} ms, ${late} late; reads p50 ${ms(reading.times, 0.5)}, p95 ${ms(reading.times, 0.95)} ms, ${reading.refused} refused; desk ${result.desk.toFixed(2)}, clients ${result.self.toFixed(2)} of a processor`);
  return result;
}

/** What an option has now is what was entered last: read in a page opened anew. */
async function sameInTheRecords() {
  for (const editing of open) {
    await editing.page.until(screen => screen.first(element => element.get('data-save') === 'saved'), 30_000);
    const again = await Circuit.open(owner, new URL(editing.page.location).pathname, screen => revision(screen) !== null);
    for (const [name, value] of valuesOf(again.screen)) {
      if (value !== editing.expected.get(name)) {
        throw new Error(`${editing.page.location} was opened anew: ${name} is ${value} and was set to ${editing.expected.get(name)}.`);
      }
    }

    await again.close();
  }
}

async function openEditing(count, rest = true) {
  while (open.length < count) {
    const number = open.length + 1;
    const page = await workspace(owner, vans[number % vans.length].path, `Load ${number}`);
    open.push(new Editing(page, seed + 7919 * number));
  }

  // With searches at work it never rests.
  await (rest ? resting() : wait(15_000));
}

/** Until the years and ranges behind the pages are done, which would be counted as theirs: while they are worked out, they hold tens of megabytes. */
async function resting() {
  for (let calm = 0, since = performance.now(); calm < 3; ) {
    const before = processor();
    await wait(2000);
    calm = processor() - before < 0.1 ? calm + 1 : 0;
    if (performance.now() - since > 600_000) {
      throw new Error('The desk was at work for ten minutes after the last edit.');
    }
  }
}

async function close(pages) {
  await Promise.all(pages.map(page => page.close()));
}

async function openIdle(count) {
  while (idle.length < count) {
    idle.push(...await Promise.all(Array.from({ length: Math.min(5, count - idle.length) }, () => Circuit.open(owner, '/clients', screen => screen.first(element => element.get('id') === 'search')))));
  }
}

const noted = async what => {
  const now = { what, pages: open.length, idle: idle.length, heap: await heap(), resident: resident() };
  memory.push(now);
  say(`${what}: heap ${now.heap.toFixed(0)} MB, resident ${now.resident.toFixed(0)} MB`);
};

// Memory first, before there are searches, whose work would be counted as that of pages.
await openEditing(5);
await noted('5 pages');
await openEditing(25);
await noted('20 pages more');
await round(10, 15_000, 0);
await resting();
await noted('all 25 edited');
await openIdle(275);
// Hundreds of connections are never without work.
await wait(15_000);
await noted('275 idle pages more');
await close([...idle.splice(0), ...open.splice(0).map(editing => editing.page)]);

const links = await newLinks(owner, plan, 20);
await openEditing(5);
say('asks for searches');
stillGoing = searches > 0 ? await askForSearches(owner, vans[0].path, searches) : async () => 0;
results.push(await round(10, 1000 * seconds, 50));
await sameInTheRecords();
await openEditing(25, false);
await openIdle(275);
results.push(await round(60, 1000 * seconds, 50));
await sameInTheRecords();
const ladder = [];
for (const rate of [10, 20, 30, 45, 60, 90, 120]) {
  ladder.push(await round(rate, 10_000, 50));
  // Further up only pages that break are to be seen.
  if (10 * ladder.at(-1).late > ladder.at(-1).edits) {
    break;
  }
}

const row = (name, ...cells) => console.log(`| ${name} | ${cells.join(' | ')} |`);
row('', 'asked', ...results.map(result => `${result.pages} pages${result.idle > 0 ? `, ${result.idle} idle` : ''}`));
row('---', '---:', ...results.map(() => '---:'));
row('edits (a second)', '', ...results.map(result => `${result.edits} (${(result.edits / seconds).toFixed(1)})`));
row('first answer p50, ms', '', ...results.map(result => ms(result.times, 0.5)));
row('**first answer p95, ms**', 'under 200', ...results.map(result => ms(result.times, 0.95)));
row('no answer in 10 s', 0, ...results.map(result => result.late));
row('plan reads', '', ...results.map(result => result.reading.times.length));
row('plan read p50, ms', '', ...results.map(result => ms(result.reading.times, 0.5)));
row('**plan read p95, ms**', 'under 50', ...results.map(result => ms(result.reading.times, 0.95)));
row('plan reads refused', 0, ...results.map(result => result.reading.refused));
row('searches at work or waiting when it began', searches, ...results.map(result => result.searches));
row('resident memory at its end, MB', 'under 1500', ...results.map(result => result.resident.toFixed(0)));
row('processors the desk took, of 2', '', ...results.map(result => result.desk.toFixed(2)));
row('of these pages, edits and reads', '', ...results.map(result => result.pool.toFixed(2)));
row('processors all clients took', '', ...results.map(result => result.self.toFixed(2)));
row('late turns of the clients themselves, p95, ms', '', ...results.map(result => result.loop.toFixed(0)));
row('sent to a page per edit, kB', '', ...results.map(result => result.perEdit.toFixed(0)));

console.log('\n## Memory\n');
console.log('Live objects after a full collection, which `dotnet-gcdump` has the desk make, by its own numbers (`dotnet-counters`), without holes. Resident is what the process holds just after.\n');
row('', 'editing pages', 'idle pages', 'heap, MB', 'resident, MB');
row('---', '---:', '---:', '---:', '---:');
for (const now of memory) {
  row(now.what, now.pages, now.idle, now.heap.toFixed(0), now.resident.toFixed(0));
}

const more = (from, to, count) => (memory[to].heap - memory[from].heap) / count;
console.log(`\nAn editing page more: ${more(0, 1, 20).toFixed(2)} MB of heap when it is opened, **${(more(0, 1, 20) + more(1, 2, 25)).toFixed(2)} MB** when it has been edited and has a year and ranges of its own (asked: at most 3). An idle page more: **${more(2, 3, 275).toFixed(2)} MB** (asked: at most 1).`);

console.log('\n## What breaks first\n');
console.log('The same pages, ten seconds at each rate.\n');
row('edits a second asked', 'answered', 'first answer p50, ms', 'p95, ms', 'no answer in 10 s', 'plan read p50, ms', 'p95, ms', 'desk, processors', 'clients, processors');
row('---:', ...Array(8).fill('---:'));
for (const step of ladder) {
  row(step.asked, step.times.length, ms(step.times, 0.5), ms(step.times, 0.95), step.late, ms(step.reading.times, 0.5), ms(step.reading.times, 0.95), step.desk.toFixed(2), step.self.toFixed(2));
}

const missedAt = (what, limit) => {
  const step = ladder.find(each => (what(each).length ? at(what(each), 0.95) : Infinity) >= limit);
  return step === undefined ? 'at none of these rates' : `from ${step.asked} edits a second`;
};
console.log(`\nThe first answer misses its 200 ms ${missedAt(step => step.times, 200)}, a plan read its 50 ms ${missedAt(step => step.reading.times, 50)}.`);

console.log('\n## A light circuit against a browser\n');
console.log(`One page alone, ${alone} edits of the same kinds and seed, from the message with the edit to the one with its numbers.\n`);
row('', 'p50, ms', 'p95, ms');
row('---', '---:', '---:');
row('light circuit', ms(light, 0.5), ms(light, 0.95));
row('Chromium', ms(heavy, 0.5), ms(heavy, 0.95));
console.log('\nAsked for: p95 of the first answer under 200 ms, of a plan read under 50 ms, memory under 1500 MB; 3 MB for a heavy page, 1 MB for another.');
process.exit(0);
