// Several consultants at once on one desk, on this machine: each edits an option of their own, readers open a plan, idle tabs stay open.
// Server, browser and readers share the processors, so what is slow here may be the browser: the server's part of an edit stands apart, from the message
// leaving the page to the one with the numbers, as the page's own script sees them. Prints a table in Markdown.
//   node load.mjs ADDRESS PROCESS [SECONDS] [PAGES EDITS-A-SECOND IDLE READS-A-SECOND]
import { readFileSync } from 'node:fs';
import { chromium } from 'playwright-core';
import { at, copyTo, probe, signIn } from './probe.mjs';

const [address, process_, seconds, pages, rate, idle, reads] = [process.argv[2], ...process.argv.slice(3).map(Number)];
const length = 1000 * (seconds || 60);
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox', '--renderer-process-limit=8', '--disable-background-timer-throttling', '--disable-renderer-backgrounding'] });
const wait = ms => new Promise(done => { setTimeout(done, ms); });
const memory = () => Number(/^VmRSS:\s+(\d+)/m.exec(readFileSync(`/proc/${process_}/status`, 'utf8'))[1]) / 1024;

const consultant = await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' });
await consultant.addInitScript(probe);
consultant.setDefaultTimeout(120_000);
const first = await consultant.newPage();
await signIn(first, address);
const van = await first.getByRole('region', { name: 'Vans' }).getByRole('link').first().getAttribute('href');

// Everybody has an option of their own: two at one would only tell each other of it.
async function workspace(number) {
  const page = await consultant.newPage();
  await page.goto(new URL(van, address + '/').href);
  await page.locator('.headlines[data-revision]').waitFor();
  await copyTo(page, `Load ${number}`);
  return page;
}

const people = () => globalThis.edit(() => {
  const list = [...document.querySelectorAll('.pane-inputs select')].find(select => document.querySelector(`label[for="${select.id}"]`)?.textContent.includes('Sleepers'));
  list.selectedIndex = list.selectedIndex === 1 ? 2 : 1;
  list.dispatchEvent(new Event('change', { bubbles: true }));
});

// A plan of the demo, by links of our own: one alone comes to its limit of 240 a minute.
await first.goto(address + '/');
const planHref = await first.locator('a[href*="plans/"]').first().getAttribute('href');
await first.goto(new URL(planHref, address + '/').href);
const plans = new Set();
while (plans.size < 20) {
  await first.getByRole('button', { name: 'Make a new link' }).click();
  await first.waitForFunction(had => !had.includes(document.querySelector('#new-link')?.value ?? had[0]), [...plans, '']);
  plans.add(await first.getByLabel('New link').inputValue());
}

const links = [...plans];

async function editing(page, until, pause, edits, late) {
  while (performance.now() < until) {
    const began = performance.now();
    try {
      edits.push(await page.evaluate(people));
    } catch {
      late.push(began);
    }

    await wait(Math.max(0, pause * (0.5 + Math.random()) - (performance.now() - began)));
  }
}

async function reading(until, pause, times, refused) {
  let visit = 0;
  const under = [];
  while (performance.now() < until) {
    const visitor = `198.51.100.${++visit % 250}`;
    const began = performance.now();
    under.push(fetch(links[visit % links.length], { headers: { 'X-Forwarded-For': visitor } }).then(async answer => {
      await answer.arrayBuffer();
      (answer.status === 200 ? times : refused).push(performance.now() - began);
    }));
    await wait(pause);
  }

  await Promise.all(under);
}

console.log('| editing pages | idle pages | edits | edit p50, ms | edit p95, ms | of it server p50, ms | server p95, ms | no numbers in 10 s | plan reads | read p50, ms | read p95, ms | refused | memory, MB | a page more, MB |');
console.log('| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |');
const open = [];
const tabs = [];
let profile;
const rounds = pages ? [[pages, rate, idle, reads]] : [[5, 10, 0, 50], [25, 60, 275, 50]];
for (const [editors, editRate, idlers, readRate] of rounds) {
  const before = memory();
  const had = open.length + tabs.length;
  while (open.length < editors) {
    open.push(await workspace(open.length + 1));
  }

  while (tabs.length < idlers) {
    // A browser opens 255 sockets and no more for one profile.
    if (tabs.length % 100 === 0) {
      profile = await browser.newContext({ viewport: { width: 1280, height: 720 }, storageState: await consultant.storageState() });
      profile.setDefaultTimeout(120_000);
    }

    const tab = await profile.newPage();
    await tab.goto(address + '/clients');
    tabs.push(tab);
  }

  const more = open.length + tabs.length - had;
  const perPage = more > 0 ? (memory() - before) / more : 0;
  await wait(3000);
  const [edits, late, times, refused] = [[], [], [], []];
  const until = performance.now() + length;
  await Promise.all([
    ...open.map(page => editing(page, until, 1000 * editors / editRate, edits, late)),
    ...(readRate > 0 ? [reading(until, 1000 / readRate, times, refused)] : []),
  ]);
  const [total, server] = ['total', 'server'].map(part => edits.map(edit => edit[part]));
  const ms = (values, share) => values.length ? at(values, share).toFixed(0) : '–';
  console.log(`| ${open.length} | ${tabs.length} | ${edits.length} | ${[total, server].flatMap(part => [ms(part, 0.5), ms(part, 0.95)]).join(' | ')} | ${late.length} | ${times.length} | ${ms(times, 0.5)} | ${ms(times, 0.95)} | ${refused.length} | ${memory().toFixed(0)} | ${perPage.toFixed(1)} |`);
}

await browser.close();
console.log('\nAsked for: p95 of an edit under 200 ms, of a plan read under 50 ms, memory under 1500 MB; 3 MB for a heavy page, 1 MB for another. Memory is what the process holds (resident), taken without a collection before it: more than the heap. Years and ranges are calculated behind every edit.');
