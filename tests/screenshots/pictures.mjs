// The few pictures README and guide show, from a running demo desk: small files of the final look.
//   node pictures.mjs ADDRESS FOLDER
import { chromium } from 'playwright-core';
import { mkdirSync } from 'node:fs';

const [address, folder] = process.argv.slice(2);
mkdirSync(folder, { recursive: true });
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--force-color-profile=srgb', '--hide-scrollbars'],
});

async function person(width, height, scheme = 'light') {
  const context = await browser.newContext({ viewport: { width, height }, colorScheme: scheme, reducedMotion: 'reduce' });
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  await page.goto(address + '/sign-in');
  await page.getByLabel('E-mail').fill('robin@fernhollow.example.org');
  await page.getByLabel('Password').fill('kettle-on-fernhollow');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.locator('main a[href*="vans/"]').first().waitFor();
  return page;
}

const save = (page, name) => page.screenshot({ path: `${folder}/${name}.png` });
const settled = page => page.waitForFunction(() => /\d/.test(document.querySelector(".headlines [data-number='outdoor-air'] dd")?.textContent ?? '')
  && document.querySelectorAll('[data-old=old]').length === 0);
const part = async (page, name) => {
  await page.locator('.pane-results .parts').getByRole('button', { name, exact: true }).click();
  await page.waitForTimeout(1500);
  await settled(page);
};

const page = await person(1280, 800);
await page.waitForTimeout(800);
await save(page, 'desk');
const links = await page.locator('main a[href]').evaluateAll(all => all.map(link => [link.textContent.trim(), new URL(link.href).pathname]));
const van = name => links.find(([text, path]) => text.includes(name) && /^\/vans\/[0-9a-f-]{36}$/.test(path))[1];
const plan = links.map(([, path]) => path).find(path => /^\/plans\/[0-9a-f-]{36}$/.test(path));

await page.goto(address + van('Heron'));
await settled(page);
await page.locator(".pane-results [data-number='wet-mornings'] dd").first().waitFor();
await page.waitForTimeout(2500);
await save(page, 'workspace');
await part(page, 'Year');
await save(page, 'year');

await part(page, 'Walls');
await page.getByRole('button', { name: 'Set them side by side' }).click();
await page.locator('.pane-results progress').waitFor();
await page.locator('.pane-results progress').waitFor({ state: 'detached' });
await page.getByRole('heading', { name: 'Sealed or breathing' }).evaluate(heading => heading.scrollIntoView({ block: 'center' }));
await save(page, 'walls');
await part(page, 'Overview');
await page.locator('.pane-drawing .situation').nth(3).click();
await page.locator('.situation-shown').waitFor();
await page.waitForTimeout(1500);
await save(page, 'situation');
await page.locator('.pane-drawing .situation').first().click();
await part(page, 'Ask');
await page.locator('.asks').waitFor();
await save(page, 'ask');
await part(page, 'Designs');
await page.getByRole('button', { name: 'Search the designs' }).click();
await page.locator('[data-end=finished]').waitFor({ timeout: 1_800_000 });
await save(page, 'designs');
const player = await page.getByRole('link', { name: 'Play the night' }).getAttribute('href');
await page.goto(address + '/' + player);
const beside = page.getByLabel('Beside it');
await beside.selectOption({ index: 1 });
await page.locator('.night-side').nth(1).waitFor();
await page.waitForTimeout(2000);
await page.locator('[data-scrub]').fill('75');
await page.waitForTimeout(1500);
await save(page, 'night');

await page.goto(address + '/prices');
await page.locator('.price-table').first().waitFor();
await save(page, 'prices');
await page.goto(address + '/firm');
await page.locator('.papers').waitFor();
await save(page, 'firm');
await page.context().close();

const night = await person(1280, 800, 'dark');
await night.goto(address + van('Snow Hare'));
await settled(night);
await night.waitForTimeout(4000);
await save(night, 'workspace-dark');
await night.context().close();

const phone = await person(390, 844);
await phone.goto(address + plan + '/read');
await phone.locator('.plan-head').waitFor();
await save(phone, 'plan-phone');
await browser.close();
