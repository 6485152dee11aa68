// Weighs and times what a client opens on a phone: the plan page of each van that has a plan, the questionnaire and the page
// for tonight, with scripts on and off, on a slow line; then the PDF of a plan beside the same page printed by Chromium.
// Prints tables in Markdown.
//   node client-pages.mjs ADDRESS PROCESS-ID-OF-THE-DESK
import { chromium } from 'playwright-core';
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

const [address, desksId] = process.argv.slice(2);
// A phone with one bar: 400 kbit/s down, 150 kbit/s up, 400 ms there and back, a processor four times slower.
const line = { offline: false, downloadThroughput: 400_000 / 8, uploadThroughput: 150_000 / 8, latency: 400 };
const slower = 4;
const times = 3;

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
const desk = await browser.newContext({ viewport: { width: 1280, height: 720 } });
const page = await desk.newPage();
page.setDefaultTimeout(60_000);
await page.goto(address + '/sign-in');
await page.getByLabel('E-mail').fill('robin@fernhollow.example.org');
await page.getByLabel('Password').fill('kettle-on-fernhollow');
await page.getByRole('button', { name: 'Sign in' }).click();
await page.locator('main a[href*="vans/"]').first().waitFor();

const opened = [];
const plans = await page.locator('main a[href*="plans/"]').evaluateAll(links =>
  [...new Set(links.map(link => new URL(link.href).pathname).filter(path => /^\/plans\/[0-9a-f-]{36}$/.test(path)))]);
for (const plan of plans) {
  await page.goto(address + plan);
  await page.getByRole('button', { name: /link/i }).first().click();
  const link = page.locator('#new-link');
  await link.waitFor();
  const token = new URL(await link.inputValue()).pathname;
  const name = (await page.getByRole('heading', { level: 1 }).innerText()).trim();
  opened.push([name, token], [`${name}, tonight`, `${token}/tonight`]);
}

await page.goto(address + '/clients');
await page.locator('main a[href*="clients/"]').first().waitFor();
await page.goto(await page.locator('main a[href*="clients/"]').evaluateAll(links => links.map(link => link.href).find(href => /\/clients\/[0-9a-f-]{36}$/.test(href))));
await page.getByRole('button', { name: 'Make an intake link' }).first().click();
const intake = page.locator('[id^=intake-link-]').first();
await intake.waitFor();
opened.push(['Questionnaire, first step', new URL(await intake.inputValue()).pathname]);
await desk.close();

const median = values => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
console.log('| page | scripts | page, bytes | all, bytes on the line | requests | first paint, ms | readable, ms |');
console.log('| --- | --- | ---: | ---: | ---: | ---: | ---: |');
for (const [name, path] of opened) {
  for (const scripts of [true, false]) {
    const seen = [];
    for (let time = 0; time < times; time++) {
      const context = await browser.newContext({ viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true, javaScriptEnabled: scripts });
      const phone = await context.newPage();
      const tools = await context.newCDPSession(phone);
      await tools.send('Network.enable');
      await tools.send('Network.emulateNetworkConditions', line);
      await tools.send('Emulation.setCPUThrottlingRate', { rate: slower });
      let bytes = 0;
      let requests = 0;
      tools.on('Network.loadingFinished', e => { bytes += e.encodedDataLength; requests++; });
      const answer = await phone.goto(address + path, { waitUntil: 'load' });
      const html = (await answer.body()).length;
      // Asked by the tool, so that it is answered with the page's own scripts off too.
      for (let wait = 0; wait < 50 && !(await phone.evaluate(() => performance.getEntriesByName('first-contentful-paint').length)); wait++) {
        await phone.waitForTimeout(100);
      }

      const [paint, read] = await phone.evaluate(() => [
        performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN,
        performance.getEntriesByType('navigation')[0].domInteractive,
      ]);
      const landed = new URL(phone.url()).pathname;
      seen.push({ status: landed.startsWith('/sign-in') ? 404 : answer.status(), html, bytes, requests, paint, read, title: await phone.title() });
      await context.close();
    }

    if (seen[0].status !== 200) {
      console.log(`| ${name} | ${scripts ? 'on' : 'off'} | answered ${seen[0].status} | | | | |`);
      continue;
    }

    const of = key => Math.round(median(seen.map(one => one[key])));
    console.error(`${name}: ${seen[0].title}`);
    console.log(`| ${name} | ${scripts ? 'on' : 'off'} | ${of('html')} | ${of('bytes')} | ${of('requests')} | ${of('paint')} | ${of('read')} |`);
  }
}

// The PDF: ours over http from the desk, and the plan page printed, each often enough for a median, the first apart.
const plan = opened[0][1];
const often = 10;
const peak = () => Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${desksId}/status`, 'utf8'))[1]) / 1024;
const held = () => execFileSync('ps', ['-eo', 'rss=,args='], { encoding: 'utf8' }).split('\n')
  .filter(line => line.includes('chromium')).reduce((sum, line) => sum + Number(line.trim().split(' ')[0]), 0) / 1024;
const timed = async work => {
  const start = performance.now();
  const bytes = await work();
  return { ms: performance.now() - start, bytes };
};
const before = peak();
const ours = [];
for (let time = 0; time <= often; time++) {
  ours.push(await timed(async () => {
    const answer = await fetch(`${address}${plan}/pdf`);
    if (answer.status !== 200) {
      throw new Error(`The PDF answered ${answer.status}.`);
    }

    return (await answer.arrayBuffer()).byteLength;
  }));
}

const after = peak();
const printer = await browser.newPage();
await printer.goto(address + plan, { waitUntil: 'load' });
const printed = [];
for (let time = 0; time <= often; time++) {
  printed.push(await timed(async () => (await printer.pdf({ format: 'A4', printBackground: true, tagged: true, outline: true })).length));
}

const memory = held();
const row = (name, all, words) => console.log(
  `| ${name} | ${Math.round(all[0].ms)} | ${Math.round(median(all.slice(1).map(one => one.ms)))} | ${all[0].bytes} | ${words} |`);
console.log(`\n## The PDF of ${opened[0][0]}\n`);
console.log('| made by | first, ms | then (median of 10), ms | bytes | memory |\n| --- | ---: | ---: | ---: | --- |');
row('this program, over http', ours, `peak of the whole program ${Math.round(before)} MB before, ${Math.round(after)} MB after`);
row('headless Chromium, the plan page only (the pages beside it are not in it)', printed, `all its processes hold ${Math.round(memory)} MB, counting shared pages again for each`);
await browser.close();
