// Searches of designs by several consultants, so that somebody's edits can be timed beside them.
import { copyTo, signIn } from './probe.mjs';

// One person may have three waiting or at work.
const perPerson = 3;

/**
 * Asks for searches of copies of the demo's lived-in van: first as the demo's consultant, then as people she invites. The pages are closed again; searches go on.
 * @returns {Promise<() => Promise<number>>} How many of them still wait or work.
 */
export async function askForSearches(browser, address, wanted) {
  const asked = [];
  const owner = await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' });
  owner.setDefaultTimeout(120_000);
  const page = await owner.newPage();
  await signIn(page, address);
  const van = new URL(await page.getByRole('region', { name: 'Vans' }).getByRole('link', { name: 'The Heron' }).first().getAttribute('href'), address + '/').href;
  for (let person = 0; asked.length < wanted; person++) {
    const context = person === 0 ? owner : await join(browser, page, address, person);
    const own = await context.newPage();
    for (let search = 0; search < perPerson && asked.length < wanted; search++) {
      await own.goto(van);
      await own.locator('.headlines[data-revision]').waitFor();
      await copyTo(own, `Search ${asked.length + 1}`);
      await own.getByRole('group', { name: 'Part of the results' }).getByRole('button', { name: 'Designs', exact: true }).click();
      await own.getByRole('button', { name: 'Search the designs' }).click();
      await own.locator('.pane-results').getByRole('button', { name: 'Stop', exact: true }).waitFor();
      asked.push({ context, url: own.url() });
    }

    await own.close();
  }

  return async () => {
    let going = 0;
    for (const { context, url } of asked) {
      const again = await context.newPage();
      await again.goto(url);
      await again.getByRole('group', { name: 'Part of the results' }).getByRole('button', { name: 'Designs', exact: true }).click();
      await again.getByRole('heading', { name: 'Every sensible design' }).waitFor();
      await again.locator('.pane-results').getByRole('button', { name: /^(Stop|Search again)$/ }).first().waitFor();
      going += await again.locator('.pane-results').getByRole('button', { name: 'Stop', exact: true }).count();
      await again.close();
    }

    return going;
  };
}

async function join(browser, owner, address, person) {
  await owner.goto(address + '/people');
  await owner.getByLabel('For whom').fill(`Consultant ${person}`);
  await owner.getByRole('button', { name: 'Make an invitation' }).click();
  const link = await owner.locator('#invitation-link').inputValue();
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' });
  context.setDefaultTimeout(120_000);
  const page = await context.newPage();
  await page.goto(link);
  await page.getByLabel('Your name').fill(`Consultant ${person}`);
  await page.getByLabel('E-mail address').fill(`consultant${person}@fernhollow.example.org`);
  await page.getByLabel('Password', { exact: true }).fill('kettle-on-fernhollow');
  await page.getByLabel('Password again').fill('kettle-on-fernhollow');
  await page.getByRole('button', { name: 'Make the account and sign in' }).click();
  await page.getByRole('region', { name: 'Vans' }).waitFor();
  await page.close();
  return context;
}
