// Takes every screen of a running demo desk at three widths, light and dark, and says which scroll sideways.
//   node take.mjs ADDRESS FOLDER [NAME...]
// With names, only the screens whose names begin with one of them. tests/screenshots.sh starts the desk and calls this.
import { chromium } from 'playwright-core';
import { mkdirSync } from 'node:fs';

const [address, folder, ...only] = process.argv.slice(2);
const email = 'robin@fernhollow.example.org';
const password = 'kettle-on-fernhollow';
const screens = [
  { name: 'desktop', width: 1280, height: 720 },
  { name: 'tablet', width: 820, height: 1180 },
  { name: 'phone', width: 390, height: 844 },
].filter(screen => !process.env.SCREENS || process.env.SCREENS.split(',').includes(screen.name));
const parts = ['Overview', 'Night', 'Situations', 'Year', 'Walls', 'Heat', 'Card', 'Cost', 'Helps', 'Ask', 'Designs'];
const wanted = name => only.length === 0 || only.some(start => name.startsWith(start));

mkdirSync(folder, { recursive: true });
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--force-color-profile=srgb', '--hide-scrollbars'],
});
const troubles = [];

for (const screen of screens) {
  const context = await browser.newContext({ viewport: { width: screen.width, height: screen.height }, reducedMotion: 'reduce' });
  const page = await context.newPage();
  page.setDefaultTimeout(90_000);
  // The page that is not there answers 404, as it should.
  page.on('console', message => message.type() === 'error' && !page.url().endsWith('/no-such-page') && troubles.push(`${screen.name} ${page.url()}: ${message.text()}`));
  page.on('pageerror', error => troubles.push(`${screen.name} ${page.url()}: ${error.message}`));

  async function take(name, full = true) {
    if (!wanted(name)) {
      return;
    }
    for (const scheme of ['light', 'dark']) {
      await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
      await page.screenshot({ path: `${folder}/${name}-${screen.name}-${scheme}.png`, fullPage: full });
    }
    await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' });
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    if (width > screen.width) {
      troubles.push(`${name} is ${width} pixels wide on a screen of ${screen.width}.`);
    }
  }

  async function open(path) {
    await page.goto(address + path);
    await page.getByRole('heading', { level: 1 }).first().waitFor();
  }

  await open('/sign-in');
  await take('sign-in');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await take('sign-in-refused');
  await page.getByLabel('E-mail').fill(email);
  await page.getByLabel('Password').fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.locator('main a[href*="vans/"]').first().waitFor();
  await page.waitForTimeout(500);
  await take('desk');

  const vans = await page.locator('main a[href*="vans/"]').evaluateAll(links => links.map(link => [link.textContent.trim(), new URL(link.href).pathname]));
  const van = name => vans.find(([text, path]) => text.includes(name) && /^\/vans\/[0-9a-f-]{36}$/.test(path))?.[1];
  const plan = await page.locator('main a[href*="plans/"]').evaluateAll(links => links.map(link => new URL(link.href).pathname).find(path => /^\/plans\/[0-9a-f-]{36}$/.test(path)));
  const heron = van('Heron');

  await open('/clients');
  await page.locator('main a[href*="clients/"]').first().waitFor();
  await take('clients');
  const clients = await page.locator('main a[href*="clients/"]').evaluateAll(links => links.map(link => [link.textContent.trim(), new URL(link.href).pathname]));
  const client = clients.find(([text]) => text.includes('Calloway'))?.[1];
  for (const [name, path] of [
    ['client', client], ['new-client', '/clients/new'], ['new-van', client + '/vans/new'], ['consults', heron + '/consults'],
    ['prices', '/prices'], ['firm', '/firm'], ['people', '/people'], ['audit', '/audit'], ['account', '/account'], ['authenticator', '/account/authenticator'], ['agendas', '/agendas'], ['plan-links', plan], ['not-found', '/no-such-page'],
  ]) {
    await open(path);
    await page.waitForTimeout(600);
    await take(name);
  }

  await open('/clients/new');
  await page.waitForTimeout(600);
  await page.getByRole('button', { name: /Create|Start|Add/ }).last().click();
  await page.waitForTimeout(400);
  await take('new-client-refused');

  for (const [short, path] of [['heron', heron], ['hare', van('Snow Hare')], ['wren', van('Little Wren')]]) {
    if (only.length > 0 && !only.some(start => `workspace-${short}`.startsWith(start) || start.startsWith(`workspace-${short}`))) {
      continue;
    }
    await open(path);
    const settled = async () => {
      await page.waitForFunction(() => /\d/.test(document.querySelector(".headlines [data-number='outdoor-air'] dd")?.textContent ?? '')
        && document.querySelectorAll('[data-old=old]').length === 0);
    };
    await settled();
    const section = async name => {
      const button = page.locator('.sections').getByRole('button', { name, exact: true });
      if (await button.isVisible()) {
        await button.click();
        return true;
      }
      return false;
    };
    const full = screen.name !== 'desktop';
    await take(`workspace-${short}`, full);
    if (await section('Drawing')) {
      await take(`workspace-${short}-drawing`, full);
    }
    if (short === 'heron') {
      await page.evaluate(() => document.querySelectorAll('.pane-inputs [aria-expanded=false]').forEach(button => button.click()));
      await page.waitForTimeout(800);
      if (await section('Inputs') || screen.name === 'desktop') {
        if (screen.name === 'desktop') {
          await page.addStyleTag({ content: '.all-of-it .pane-inputs { overflow: visible !important; height: auto !important; } ' });
        }
        await take(`workspace-${short}-inputs`, full);
      }
    }
    await section('Results');
    await page.locator('.pane-results').waitFor();
    await page.waitForTimeout(3000);
    for (const part of parts) {
      await page.locator('.pane-results .parts').getByRole('button', { name: part, exact: true }).click();
      await page.waitForTimeout(1200);
      const find = page.getByRole('button', { name: 'Find it' });
      if (part === 'Helps' && await find.isVisible()) {
        await find.click();
        await page.locator('.helps').waitFor();
      }
      await settled().catch(() => {});
      await take(`workspace-${short}-${part.toLowerCase()}`, full);
    }
    await page.locator('.pane-results .parts').getByRole('button', { name: 'Overview', exact: true }).click();
    if (!await section('Agenda')) {
      await page.locator('.left-parts').getByRole('button', { name: 'Agenda', exact: true }).click();
    }
    await page.waitForTimeout(800);
    await take(`workspace-${short}-agenda`, full);
    if (await section('Situation') || screen.name === 'desktop') {
      if (screen.name === 'desktop') {
        await page.locator('.left-parts').getByRole('button', { name: 'Situation', exact: true }).click();
      }
      await page.waitForTimeout(800);
      await take(`workspace-${short}-situation`, full);
    }
    if (short === 'heron') {
      await section('Drawing');
      await page.locator('.pane-drawing .situation').nth(3).click();
      await page.locator('.situation-shown').waitFor();
      await settled().catch(() => {});
      await take(`workspace-${short}-frost`, full);
      await page.locator('.pane-drawing .situation').first().click();
      await page.locator('.pane-drawing .board-handle').first().focus();
      await page.keyboard.press('Enter');
      await page.waitForTimeout(800);
      await take(`workspace-${short}-chosen`, false);
      await page.getByRole('button', { name: /^Sharing screen/ }).click();
      await page.waitForTimeout(800);
      await take(`workspace-${short}-shared`, full);
      await page.getByRole('button', { name: /^Sharing screen/ }).click();
      const player = await page.getByRole('link', { name: 'Play the night' }).getAttribute('href');
      const back = page.url();
      await open('/' + player);
      await page.locator('.night-sides').first().waitFor();
      await page.waitForTimeout(1500);
      await take('night', full);
      await page.goto(back);
      await settled();
    }
    const choice = page.locator('select[name=compare]');
    if (await choice.count() > 0) {
      const value = await choice.locator('option').nth(1).getAttribute('value');
      await choice.selectOption(value);
      await section('Drawing');
      await page.waitForTimeout(2500);
      await take(`workspace-${short}-compare`, full);
    }
    if (short === 'heron') {
      await page.getByRole('button', { name: /Publish/ }).click();
      await page.locator('.mud-dialog').waitFor();
      await page.waitForTimeout(4000);
      await take(`workspace-${short}-publish`, false);
      await page.keyboard.press('Escape');
    }
  }

  if (wanted('plan-page')) {
    await open(plan + '/read');
    await take('plan-page');
  }
  if (wanted('plan-pdf') && screen.name === 'desktop') {
    const answer = await context.request.get(address + plan + '/pdf');
    const { writeFileSync } = await import('node:fs');
    writeFileSync(`${folder}/plan.pdf`, await answer.body());
  }
  await context.close();
}

await browser.close();
console.log([...new Set(troubles)].join('\n') || 'No screen scrolls sideways, and no browser complained.');
