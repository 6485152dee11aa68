// Two hundred edits of the demo van in the workspace, and how long each takes from the change to the updated numbers on the screen.
// The server's part is from the message that carries the edit leaving the browser to the arrival of the one that carries the numbers, both
// taken at the socket; the browser's part is what lies before and after: the event, the drawing and the frame that shows it.
// Prints tables in Markdown.
//   node edits.mjs ADDRESS [EDITS [SEARCHES]]   with so many searches of designs asked for before, by several consultants
import { chromium } from 'playwright-core';
import { at, probe, signIn } from './probe.mjs';
import { askForSearches } from './searches.mjs';

const [address, wanted = '200', searches = '0'] = process.argv.slice(2);
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
const stillGoing = Number(searches) > 0 ? await askForSearches(browser, address, Number(searches)) : null;
const page = await (await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: process.env.STILL ? 'reduce' : 'no-preference' })).newPage();
page.setDefaultTimeout(60_000);
await page.addInitScript(probe);

await signIn(page, address);
await page.getByRole('region', { name: 'Vans' }).getByRole('link').first().click();
await page.locator('.headlines[data-revision]').waitFor();
await page.waitForTimeout(5_000);

// The roof fan is chosen on the drawing; its tools stand above it.
const fan = page.locator('[data-board=Plan] [data-handle]').filter({ has: page.locator('title', { hasText: 'fan' }) }).first();
await fan.focus();
await page.keyboard.press('Enter');
await page.getByRole('button', { name: 'Fan faster' }).waitFor();

const edits = [
  ['fan faster', () => edit(() => document.querySelector('[aria-label="Fan faster"]').click())],
  ['fan slower', () => edit(() => document.querySelector('[aria-label="Fan slower"]').click())],
  ['opened another way', () => edit(() => {
    const choice = [...document.querySelectorAll('[aria-label="How far it stands open"] button')];
    const now = choice.findIndex(button => button.ariaPressed === 'true');
    choice[now === 3 ? 2 : 3].click();
  })],
  ['people', () => edit(() => {
    const list = [...document.querySelectorAll('.pane-inputs select')].find(select => document.querySelector(`label[for="${select.id}"]`)?.textContent.includes('Sleepers'));
    list.selectedIndex = list.selectedIndex === 1 ? 2 : 1;
    list.dispatchEvent(new Event('change', { bubbles: true }));
  })],
  ['undo', () => edit(() => [...document.querySelectorAll('.workspace-tools button')].find(button => button.textContent.includes('Undo')).click())],
];
const results = [];
// The first turn warms both sides up and is not counted.
for (let turn = -edits.length; turn < Number(wanted); turn++) {
  const [kind, run] = edits[(turn + edits.length) % edits.length];
  const result = await page.evaluate(`(${run.toString()})()`);
  if (turn >= 0) {
    results.push({ kind, ...result });
  }

  // As long as a person takes to look: the year of the edit before is often still being calculated then.
  await page.waitForTimeout(150 + 37 * ((turn + edits.length) % 9));
}

const going = stillGoing && await stillGoing();
await browser.close();
const row = (name, values) => console.log(`| ${name} | ${[0.5, 0.95, 1].map(share => at(values, share).toFixed(0)).join(' | ')} |`);
const of = part => results.map(result => result[part]);
console.log(`| ${results.length} edits | p50, ms | p95, ms | max, ms |`);
console.log('| --- | ---: | ---: | ---: |');
row('**change to numbers on the screen**', of('total'));
row('event to the message leaving the browser', of('before'));
row('server: message out to numbers in', of('server'));
row('paint: numbers in to the frame that shows them', of('paint'));
console.log('\n| kind of edit | p50, ms | p95, ms | max, ms |');
console.log('| --- | ---: | ---: | ---: |');
for (const kind of new Set(of('kind'))) {
  row(kind, results.filter(result => result.kind === kind).map(result => result.total));
}

console.log(`\nThe message with the numbers has ${at(of('bytes'), 0.5)} bytes in the median, ${at(of('bytes'), 1)} at most.`);
if (stillGoing) {
  console.log(`\nOf ${searches} searches ${going} still worked or waited after the last edit.`);
}

const asked = stillGoing ? 150 : 100;
console.log(`\nAsked for: p95 under ${asked} ms. ${at(of('total'), 0.95) < asked ? 'Met.' : '**Missed.**'}`);
